"""The form of a trace: points on the photograph, their places by the tape, and which panel."""

from __future__ import annotations

import math
from typing import Any

from django import forms

from asfound.record.tables import TABLES

Points = list[tuple[float, float]]
_LEAST_TAPED = 4
_MOST_POINTS = 2_000
_FARTHEST = 100_000.0
VIEWS = ("left", "right", "top", "front", "rear")
SECTIONS = ("front", "middle", "rear")
SUBSTRATES = TABLES["panels"].column("substrate").words


class PointsField(forms.CharField):
    """Points as ``x,y x,y …``, as the page's script writes them."""

    def __init__(self, **options: Any) -> None:
        super().__init__(widget=forms.HiddenInput, max_length=80_000, **options)

    def clean(self, value: Any) -> Points:
        """Points as pairs of numbers."""
        try:
            pairs = [
                tuple(map(float, word.split(","))) for word in str(super().clean(value)).split()
            ]
            points = [(x, y) for x, y in pairs]
        except ValueError:
            raise forms.ValidationError("The points cannot be read. Set them again.") from None
        if len(points) > _MOST_POINTS:
            raise forms.ValidationError(f"{len(points)} points are too many. Set fewer.")
        if not all(math.isfinite(v) and abs(v) < _FARTHEST for point in points for v in point):
            raise forms.ValidationError("A point lies beyond any photograph. Set it again.")
        return points


def _choices(words: tuple[str, ...]) -> list[tuple[str, str]]:
    return [(word, word) for word in words]


class TraceForm(forms.Form):
    """Taped points with their places in mm, the traced edge, and the panel that it draws."""

    taped_px = PointsField(error_messages={"required": "No taped point is set on the photo yet."})
    taped_mm = PointsField(
        error_messages={"required": "The places of the taped points are not given."}
    )
    trace_px = PointsField(error_messages={"required": "The panel's edge is not traced yet."})
    replaces = forms.ChoiceField(label="This is", required=False)
    panel = forms.CharField(label="Its name", required=False, max_length=80)
    view = forms.ChoiceField(label="Seen from", choices=_choices(VIEWS))
    section = forms.ChoiceField(label="Part of the car", choices=_choices(SECTIONS))
    substrate = forms.ChoiceField(
        label="Metal", choices=_choices(SUBSTRATES), initial="unknown", required=False
    )

    def __init__(self, *args: Any, free: list[str], **options: Any) -> None:
        super().__init__(*args, **options)
        field = self.fields["replaces"]
        assert isinstance(field, forms.ChoiceField)
        again = [(name, f"{name}, drawn anew") for name in free]
        field.choices = [("", "a new panel"), *again]

    def clean(self) -> dict[str, Any]:
        """Points that belong together, and a name where the panel is new."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        taped, places = cleaned.get("taped_px"), cleaned.get("taped_mm")
        if taped is not None and len(taped) < _LEAST_TAPED:
            self.add_error("taped_px", f"{len(taped)} of at least four taped points are set.")
        elif taped and places and len(taped) != len(places):
            self.add_error(
                "taped_mm", f"{len(taped)} points are set and {len(places)} places given in mm."
            )
        if self.data.get("step") == "keep" and not (
            cleaned.get("replaces") or cleaned.get("panel", "").strip()
        ):
            self.add_error("panel", "The new panel has no name yet.")
        cleaned["substrate"] = cleaned.get("substrate") or "unknown"
        return cleaned
