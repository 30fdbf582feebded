"""A part has come off, after another that held or hid it: two touches beside the car."""

from __future__ import annotations

import uuid
from collections.abc import Sequence
from typing import Any
from urllib.parse import urlencode

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.answering import is_for_script, kept_answer, refused_answer
from asfound.desk.undo import offer_undo
from asfound.record.actions import came_off
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip import strip_read
from asfound.record.faults import InputFaultsError
from asfound.record.models import Car, Entry
from asfound.record.reads.strip import Offered, offered_while_stripping
from asfound.record.tables import TABLES

_BECAUSE = TABLES["joints"].column("because").words
_TYPED = {"list": "parts-there", "autocomplete": "off"}


class CameOffForm(forms.Form):
    """Which part, after which, and on which day."""

    part = forms.CharField(label="came off", widget=forms.TextInput(attrs=_TYPED))
    after = forms.CharField(
        label="after", required=False, widget=forms.TextInput(attrs=_TYPED), help_text="or nothing"
    )
    because = forms.ChoiceField(
        label="it was",
        required=False,
        choices=[("", "not said"), *((word, word) for word in _BECAUSE)],
    )
    way = forms.CharField(
        label="way",
        required=False,
        max_length=80,
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text="where a part can be reached in more than one, such as from below",
    )
    off_on = forms.DateField(label="day", widget=forms.DateInput(attrs={"type": "date"}))
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, offered: Sequence[Offered], **options: Any) -> None:
        super().__init__(*args, **options)
        self.offered = offered

    def clean_part(self) -> str:
        """Number of the part that came off."""
        return self._number(self.cleaned_data["part"])

    def clean_after(self) -> str:
        """Number of the part that was off before, or nothing."""
        typed = self.cleaned_data["after"]
        return self._number(typed) if typed else ""

    def clean(self) -> dict[str, Any]:
        """Typed values; a part did not hold itself."""
        typed = super().clean() or {}
        if typed.get("part") and typed.get("part") == typed.get("after"):
            self.add_error("after", "A part cannot come off after itself. Choose what held it.")
        return typed

    def _number(self, typed: str) -> str:
        """Number of the one part that a person means by its number, its tag or its name."""
        asked = typed.strip().casefold()
        for field in ("part", "tag", "name"):
            found = [o.part for o in self.offered if getattr(o, field).casefold() == asked]
            if len(found) == 1:
                return found[0]
        raise forms.ValidationError(
            f"“{typed}” is the number or name of no single part of this car. "
            "Choose one that is offered, or enter it in the register first."
        )


@login_required
@require_http_methods(["GET", "POST"])
def enter(request: HttpRequest, slug: str) -> HttpResponse:
    """Form of a part that came off, and on to the next."""
    car = open_car_to_write(request, slug)
    offered = _free_first(car, offered_while_stripping(car))
    form = CameOffForm(
        request.POST or None,
        offered=offered,
        initial={
            "part": request.GET.get("part", ""),
            "off_on": timezone.localdate().isoformat(),
            "key": uuid.uuid4().hex,
        },
    )
    if request.method == "POST" and form.is_valid():
        return _keep(request, car, form)
    if is_for_script(request):
        return refused_answer(form)
    return show(
        request,
        "plan/came_off.html",
        status=422 if form.errors else 200,
        car=car,
        room="plan",
        form=form,
        offered=offered,
        off_n=sum(one.is_off for one in offered),
    )


def _free_first(car: Car, offered: list[Offered]) -> list[Offered]:
    """Those handled lately, then those that nothing known holds, then the rest."""
    folder = folder_of(car)
    if not len(folder.sheet("joints")):
        return offered
    try:
        question, _ = strip_read(folder)
    except InputFaultsError:
        return offered
    free = set(next(iter(question.waves), ()))
    return sorted(offered, key=lambda one: (not one.is_late, one.part not in free))


def _keep(request: HttpRequest, car: Car, form: CameOffForm) -> HttpResponse:
    typed = form.cleaned_data
    told = {**typed, "off_on": typed["off_on"].isoformat()}
    entry = came_off(car=car, by=request.user, **told)
    _say(request, car, form, entry)
    asked = urlencode({"part": typed["part"]})
    following = f"{reverse('came-off', args=(car.slug,))}?{asked}"
    return kept_answer(request, following)


def _say(request: HttpRequest, car: Car, form: CameOffForm, entry: Entry | None) -> None:
    names = {one.part: one.name for one in form.offered}
    part, after = form.cleaned_data["part"], form.cleaned_data["after"]
    told = f"{names[part]} came off" + (f" after {names[after]}." if after else ".")
    if entry is None:
        messages.info(request, f"This was kept already: {told}")
    else:
        offer_undo(request, f"Kept: {told}", car=car, kind="came-off", pk=entry.pk)
