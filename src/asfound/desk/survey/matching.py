"""The form that says which column of an uploaded file is which."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from asfound.desk.survey.upload import FILM, guess

_LABELS = {
    "panel": "panel",
    "spot": "spot",
    "x_mm": "x, in the panel's mm",
    "y_mm": "y, in the panel's mm",
    "thickness_um": "film, in µm",
    "gauge": "gauge",
    "taken_at": "taken at",
    "by": "by",
}
_NONE = ""


class MatchForm(forms.Form):
    """A choice of column for each thing that a reading needs, guessed to begin with."""

    def __init__(
        self, *args: Any, head: Sequence[str], panels: Sequence[str], **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.guessed = guess(tuple(head))
        places = [(str(i), name or f"column {i + 1}") for i, name in enumerate(head)]
        for column in FILM.columns:
            empty = "is missing" if column.required else "not in the file"
            self.fields[column.name] = forms.ChoiceField(
                label=_LABELS[column.name],
                choices=[(_NONE, f"({empty})"), *places],
                initial=str(self.guessed.get(column.name, _NONE)),
                required=False,
            )
        self.fields["one_panel"] = forms.ChoiceField(
            label="or all rows are of one panel",
            choices=[(_NONE, "(no)"), *((name, name) for name in panels)],
            required=False,
        )
        self.order_fields(["panel", "one_panel"])

    def matching(self) -> tuple[dict[str, int], str]:
        """Place of each matched column, and the panel of all rows if there is one."""
        if not self.is_bound or not self.is_valid():
            return dict(self.guessed), ""
        chosen = self.cleaned_data
        one_panel = chosen["one_panel"]
        matched = {c.name: int(chosen[c.name]) for c in FILM.columns if chosen[c.name] != _NONE}
        if one_panel:
            matched.pop("panel", None)
        return matched, one_panel
