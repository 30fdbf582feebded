"""Forms of a need: entered, and told rightly."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms

from asfound.desk.observed.forms import NUMBER, WORDS, cell
from asfound.desk.salvage.forms import ColourFields, SizedForm, offered
from asfound.record.models import Car
from asfound.record.tables import TABLES


class NeedForm(SizedForm, ColourFields):
    """What is needed: kind alone, or size, nap, age, colour and thickness too."""

    table = TABLES["needs"]
    need = cell("what for", WORDS)
    kind = offered("kind", "kinds", help_text="as the stock calls it: hide, cloth, fixings …")
    part = offered("for the part", "parts", required=False, help_text="its number, or none")
    count = cell("how many", {"autocomplete": "off", "inputmode": "numeric"}, required=False)
    nap_deg = cell("nap or grain is to run °", NUMBER, required=False)
    turn_deg = cell("and may be turned by °", NUMBER, required=False)
    made = cell("made", WORDS, required=False)
    delta_e_most = cell("ΔE00 at most", NUMBER, required=False)
    thickness_least_mm = cell("thickness from mm", NUMBER, required=False)
    thickness_most_mm = cell("to mm", NUMBER, required=False)
    note = cell("note", WORDS, required=False)
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, car: Car, was: str = "", **options: Any) -> None:
        super().__init__(*args, **options)
        self._car, self._was = car, was
        self.initial.setdefault("key", uuid.uuid4().hex)
        self.fields["need"].help_text = "a name of its own, such as “rear squab, centre panel”"
        self.fields["nap_deg"].help_text = "0 to the right, 90 down; empty if any way will do"
        self.fields["made"].help_text = "a year, or a span: 1955/1960"

    def clean_need(self) -> str:
        """Name that no other need of the car has."""
        name: str = self.cleaned_data["need"].strip()
        others = self._car.observations.filter(
            table="needs", superseded_by=None, withdrawn_at=None, cells__need=name
        )
        if name != self._was and others.exists():
            raise forms.ValidationError("The car has a need of this name already.")
        return name

    def clean_part(self) -> str:
        """Number of a part of the car, or none."""
        number: str = self.cleaned_data["part"].strip()
        if number and not self._car.parts.filter(part=number).exists():
            raise forms.ValidationError("The car has no part of this number.")
        return number

    def clean(self) -> dict[str, Any]:
        """Bounds the right way round."""
        cleaned = super().clean()
        cells = cleaned.get("cells", {})
        least, most = cells.get("thickness_least_mm"), cells.get("thickness_most_mm")
        if least and most and float(least) > float(most):
            self.add_error("thickness_most_mm", f"It must be {least} mm or more.")
        if cells.get("delta_e_most") and not cells.get("L"):
            self.add_error("delta_e_most", "Give the colour that it is held against.")
        if cells.get("turn_deg") and not cells.get("nap_deg"):
            self.add_error("nap_deg", "Give the direction that it may be turned from.")
        return cleaned


class CorrectNeedForm(NeedForm):
    """A need told rightly, and why."""

    reason = cell("Why", WORDS)
