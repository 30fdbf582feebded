"""A part that came off is on again: one touch beside the car, with what its step asks for."""

from __future__ import annotations

import json
import uuid
from collections.abc import Mapping, Sequence
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.craft.cautions import DEFER
from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.answering import is_for_script, kept_answer, refused_answer
from asfound.desk.undo import offer_undo
from asfound.record.actions import on_again
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip import StripQuestion, strip_read
from asfound.record.faults import InputFaultsError
from asfound.record.models import Car, Entry
from asfound.record.reads.strip import Offered, offered_while_stripping
from asfound.record.results.rebuild import NEXT, OFF, Step, car_steps, name_of

_TYPED = {"list": "parts-there", "autocomplete": "off"}


class OnAgainForm(forms.Form):
    """Which part or sub-assembly, and on which day."""

    card = forms.CharField(required=False, widget=forms.HiddenInput)
    part = forms.CharField(label="on again", required=False, widget=forms.TextInput(attrs=_TYPED))
    on = forms.DateField(label="day", widget=forms.DateInput(attrs={"type": "date"}))
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(
        self,
        *args: Any,
        offered: Sequence[Offered],
        benches: Mapping[str, tuple[str, ...]],
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        self.offered, self.benches = offered, benches

    def clean(self) -> dict[str, Any]:
        """Typed values; ``step`` is what went on, ``parts`` are its pieces."""
        typed = super().clean() or {}
        card = typed.get("card", "")
        typed["step"] = card if card in self.benches else self._number(card or typed.get("part"))
        typed["parts"] = self.benches.get(typed["step"], (typed["step"],))
        return typed

    def _number(self, typed: str | None) -> str:
        """Number of the one part that a person means by its number, its tag or its name."""
        asked = (typed or "").strip().casefold()
        for field in ("part", "tag", "name"):
            found = [o.part for o in self.offered if getattr(o, field).casefold() == asked]
            if len(found) == 1 and asked:
                return found[0]
        self.add_error(
            "part",
            f"“{typed or ''}” is the number or name of no single part of this car. "
            "Choose one that is offered.",
        )
        return ""


@login_required
@require_http_methods(["GET", "POST"])
def enter(request: HttpRequest, slug: str) -> HttpResponse:
    """What goes on next, and a touch for what is on again."""
    car = open_car_to_write(request, slug)
    question = _question(car)
    offered = offered_while_stripping(car)
    form = OnAgainForm(
        request.POST or None,
        offered=offered,
        benches=_came_off(question),
        initial={"on": timezone.localdate().isoformat(), "key": uuid.uuid4().hex},
    )
    if request.method == "POST" and form.is_valid() and _keep(request, car, question, form):
        return kept_answer(request, reverse("on-again", args=(car.slug,)))
    if is_for_script(request):
        return refused_answer(form)
    off = [one for one in offered if one.is_off]
    steps = car_steps(question) if question else []
    told = {part for step in steps for part in _pieces(question, step.part)}
    return show(
        request,
        "plan/on_again.html",
        status=422 if form.errors else 200,
        car=car,
        room="plan",
        form=form,
        nexts=[_card(question, step) for step in steps if step.state == NEXT],
        later=[_card(question, step) for step in steps if step.state == OFF],
        alone=[one for one in off if one.part not in told],
        off=off,
        defer=DEFER,
    )


def _question(car: Car) -> StripQuestion | None:
    """What is known of the order; none where nothing, or nothing sound, is."""
    try:
        return strip_read(folder_of(car))[0]
    except InputFaultsError:
        return None


def _pieces(question: StripQuestion | None, name: str) -> tuple[str, ...]:
    return question.rebuild.pieces_of(name) if question else (name,)


def _came_off(question: StripQuestion | None) -> dict[str, tuple[str, ...]]:
    """Of each sub-assembly the pieces that came off."""
    if question is None:
        return {}
    return {
        bench: tuple(part for part in parts if question.removals[part].off_on)
        for bench, parts in question.rebuild.benches.items()
    }


def _card(question: StripQuestion | None, step: Step) -> dict[str, Any]:
    """A step, with the numbers of what it waits for, so that a page without a network knows."""
    waits = question.rebuild.waits_for(step.part, question.off) if question else ()
    return {"step": step, "waits": json.dumps(waits)}


def _keep(
    request: HttpRequest, car: Car, question: StripQuestion | None, form: OnAgainForm
) -> bool:
    typed = form.cleaned_data
    try:
        entry = on_again(
            car=car,
            parts=typed["parts"],
            on=typed["on"].isoformat(),
            by=request.user,
            key=typed["key"],
        )
    except InputError as error:
        form.add_error("part", str(error))
        return False
    _say(request, car, question, form, entry)
    return True


def _say(
    request: HttpRequest,
    car: Car,
    question: StripQuestion | None,
    form: OnAgainForm,
    entry: Entry | None,
) -> None:
    step = form.cleaned_data["step"]
    name = {one.part: one.name for one in form.offered}.get(step, step)
    if entry is None:
        messages.info(request, f"This was kept already: {name} is on again.")
        return
    offer_undo(request, f"Kept: {name} is on again.", car=car, kind="on-again", pk=entry.pk)
    known = question is not None and step in question.rebuild.needs
    still = question.rebuild.waits_for(step, question.off) if question and known else ()
    if question and still:
        told = ", ".join(name_of(question, other) for other in still)
        messages.warning(request, f"{name} was to go on after what is still off: {told}.")
