"""Forms of the register."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.craft.photographs import BESIDE_IT
from asfound.record.tables import TABLES

_FREE = {"autocomplete": "off"}


def _line(label: str, *, needed: bool = False, offers: str = "", help_text: str = "") -> Any:
    attributes = {**_FREE, "list": offers} if offers else dict(_FREE)
    return forms.CharField(
        label=label,
        required=needed,
        help_text=help_text,
        widget=forms.TextInput(attrs=attributes),
    )


def _number(label: str, *, most: float | None = None) -> Any:
    return forms.FloatField(
        label=label,
        required=False,
        min_value=0,
        max_value=most,
        widget=forms.TextInput(attrs={**_FREE, "inputmode": "decimal"}),
    )


class QuickForm(forms.Form):
    """A part at the bench: a name and a place; everything else later."""

    photo = forms.FileField(
        label="photograph",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        help_text=BESIDE_IT,
    )
    name = _line("what it is", needed=True, offers="names")
    place = _line("where it goes", offers="places")
    parent = _line("belongs to", offers="assemblies", help_text="number of the assembly, or none")
    key = forms.CharField(required=False, widget=forms.HiddenInput, max_length=64)


class MoveForm(forms.Form):
    """Where a part goes."""

    to_place = _line("goes to", needed=True, offers="places")
    note = _line("note")


class PartForm(forms.Form):
    """What is known of a part."""

    name = _line("what it is", needed=True)
    kind = forms.ChoiceField(
        label="kind",
        required=False,
        choices=[("", "not said"), *((w, w) for w in TABLES["parts"].column("kind").words)],
    )
    parent = _line("belongs to", offers="assemblies", help_text="number of the assembly, or none")
    section = _line("where on the car")
    state = forms.CharField(
        label="state", required=False, widget=forms.TextInput(attrs={**_FREE, "list": "states"})
    )
    condition = _line("condition")
    mass_kg = _number("mass kg")
    significance = _number("significance 0–5", most=5)
    safety = forms.ChoiceField(
        label="bears on safety",
        required=False,
        choices=[("", "not said"), ("yes", "yes"), ("no", "no")],
    )
    fixed_with = _line("fixed with")
    joint = _line(
        "joint",
        offers="joints",
        help_text="for a bag of fixings: the parts they hold together, with / between them",
    )
    note = forms.CharField(
        label="note", required=False, widget=forms.Textarea(attrs={"rows": 2, **_FREE})
    )

    def cells(self) -> dict[str, str]:
        """What was typed, as the cells of a row."""
        return {
            name: "" if value is None else f"{value:g}" if isinstance(value, float) else value
            for name, value in self.cleaned_data.items()
        }


class FateForm(forms.Form):
    """What becomes of a part, and why."""

    names = forms.CharField(
        label="what stands in its place",
        required=False,
        widget=forms.Textarea(attrs={"rows": 2, **_FREE}),
        help_text="one name a line; two or more for a part that came apart",
    )
    source = _line("where the new one comes from")
    reason = _line("why", needed=True)

    def lines(self) -> list[str]:
        """Names, one a line."""
        return [line.strip() for line in self.cleaned_data["names"].splitlines() if line.strip()]
