"""Parts and other cars: lent, taken back, borrowed; and several parts become one."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from asfound.base import InputError
from asfound.desk.access import open_car_to_write
from asfound.desk.parts.part import find_part
from asfound.desk.undo import offer_undo
from asfound.record.actions import lend_part, merge_parts, take_back_part
from asfound.record.models import Car
from asfound.record.reads.log import latest_entry


class LendForm(forms.Form):
    """To which car, and why."""

    to_car = forms.ModelChoiceField(
        label="to the car", queryset=Car.objects.all(), empty_label="choose"
    )
    reason = forms.CharField(label="why", widget=forms.TextInput(attrs={"autocomplete": "off"}))


class MergeForm(forms.Form):
    """Which parts become one with this, what it is called, and why."""

    numbers = forms.CharField(
        label="numbers of the others",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
        help_text="with commas between them",
    )
    name = forms.CharField(
        label="what they are together", widget=forms.TextInput(attrs={"autocomplete": "off"})
    )
    reason = forms.CharField(label="why", widget=forms.TextInput(attrs={"autocomplete": "off"}))


@login_required
@require_POST
def lend(request: HttpRequest, slug: str, part: str) -> HttpResponse:
    """Lend a part to another car, or take it back."""
    car = open_car_to_write(request, slug)
    found = find_part(car, part)
    if request.POST.get("what") == "back":
        take_back_part(part=found, by=request.user)
        _offer(request, car, f"{found} is home again. Say where it lies by moving it.")
        return redirect("part", slug, found.part)
    form = LendForm(request.POST)
    if not form.is_valid():
        messages.warning(request, "Choose the car and say why; nothing was changed.")
        return redirect("part", slug, found.part)
    lend_part(part=found, by=request.user, **form.cleaned_data)
    _offer(request, car, f"{found} is lent to {form.cleaned_data['to_car']}.")
    return redirect("part", slug, found.part)


def _offer(request: HttpRequest, car: Car, said: str) -> None:
    entry = latest_entry(car, "change part", by=request.user)
    offer_undo(request, said, car=car, kind="part-change", pk=entry)


@login_required
@require_POST
def merge(request: HttpRequest, slug: str, part: str) -> HttpResponse:
    """Several parts of the car become one."""
    car = open_car_to_write(request, slug)
    found = find_part(car, part)
    form = MergeForm(request.POST)
    if not form.is_valid():
        messages.warning(request, "Name the others, the whole, and why; nothing was changed.")
        return redirect("part", slug, found.part)
    numbers = [n.strip() for n in form.cleaned_data["numbers"].split(",") if n.strip()]
    others = list(car.parts.filter(part__in=numbers).exclude(pk=found.pk))
    unknown = sorted(set(numbers) - {other.part for other in others})
    if unknown:
        raise InputError(
            field="numbers", got=", ".join(unknown), allowed="numbers of other parts of this car"
        )
    made = merge_parts(
        parts=[found, *others],
        name=form.cleaned_data["name"],
        reason=form.cleaned_data["reason"],
        by=request.user,
    )
    said = f"{made} stands in the place of {len(others) + 1} parts."
    offer_undo(request, said, car=car, kind="part", pk=found.pk)
    return redirect("part", slug, made.part)
