"""The forms of sheet metal: a place with its readings, a correction."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms

from asfound.desk.tables.cell import TableCell
from asfound.record.tables import TABLES

METAL = TABLES["metal"]
READINGS_A_PLACE = 3
_HOLE = "A thickness is more than zero; a hole is a finding, not a thickness."


class MetalCell(TableCell):
    """A cell of ``metal.csv``, as the folder writes it."""

    def __init__(self, column: str, **options: Any) -> None:
        super().__init__(METAL.column(column), **options)

    def clean(self, value: Any) -> str:
        """Text of the cell; a hole is no thickness."""
        text = super().clean(value)
        if self.column.name == "thickness_mm" and text and float(text) <= 0:
            raise forms.ValidationError(_HOLE)
        return text


class PlaceForm(forms.Form):
    """A place on a panel or part with up to three readings of one gauge."""

    x_mm = MetalCell("x_mm")
    y_mm = MetalCell("y_mm")
    gauge = MetalCell("gauge", required=False)
    key = forms.CharField(required=False, max_length=64)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("key", uuid.uuid4().hex)

    def clean(self) -> dict[str, Any]:
        """Readings beside their place, every one under the column's rule."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        cleaned["thickness_mm"] = []
        for text in self.thickness_as_typed():
            if text:
                try:
                    cleaned["thickness_mm"].append(MetalCell("thickness_mm").clean(text))
                except forms.ValidationError as error:
                    self.add_error(None, error)
        if not cleaned["thickness_mm"] and not self.errors:
            self.add_error(None, "There is no reading. Type at least one number in mm.")
        return cleaned

    def thickness_as_typed(self) -> list[str]:
        """The numbers as they were typed, for the form to show again."""
        typed = self.data.getlist("thickness_mm") if self.is_bound else []  # type: ignore[attr-defined]  # a QueryDict
        numbers = [text.strip() for text in typed][:READINGS_A_PLACE]
        return numbers + [""] * (READINGS_A_PLACE - len(numbers))


class CorrectionForm(forms.Form):
    """What a reading should have been, and why."""

    thickness_mm = MetalCell("thickness_mm", label="sheet mm")
    x_mm = MetalCell("x_mm", label="x mm")
    y_mm = MetalCell("y_mm", label="y mm")
    gauge = MetalCell("gauge", label="gauge", required=False)
    reason = forms.CharField(
        label="Why", max_length=400, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )
