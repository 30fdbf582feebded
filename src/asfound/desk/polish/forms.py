"""The forms of polishing: a spot before and after, a correction, the asked probability."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.desk.observed.forms import NUMBER, WORDS, ReasonMixin, RowForm, cell
from asfound.desk.polish.spots import KnownSpot
from asfound.exchange.cells import Refusal, check_cell
from asfound.record.tables import TABLES

READINGS_A_SPOT = 3
_AFTER = TABLES["polish"].column("after_um")
_NO_COLUMNS = ";"


class PolishForm(RowForm):
    """A spot read before, polished, and read again; the mean of what was typed is kept."""

    table = "polish"
    spot = cell("spot", WORDS, required=False)
    before_um = cell("before µm", NUMBER, required=False)
    passes = cell("passes", {**NUMBER, "inputmode": "numeric"})
    area = cell("area", WORDS, required=False)
    process = cell("machine, pad, compound", WORDS, required=False)
    gauge = cell("gauge", WORDS, required=False)
    x_mm = cell("x mm", NUMBER, required=False)
    y_mm = cell("y mm", NUMBER, required=False)

    def __init__(
        self, *args: Any, known: dict[str, KnownSpot], new_name: str, **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.known, self.new_name = known, new_name

    def after_as_typed(self) -> list[str]:
        """The numbers as they were typed, for the form to show again."""
        typed = self.data.getlist("after_um") if self.is_bound else []  # type: ignore[attr-defined]  # a QueryDict
        numbers = [text.strip() for text in typed][:READINGS_A_SPOT]
        return numbers + [""] * (READINGS_A_SPOT - len(numbers))

    def typed(self, cleaned: dict[str, Any]) -> dict[str, str]:
        """Cells, with what the record knows of the spot where nothing was typed."""
        row = super().typed(cleaned)
        row["spot"] = row["spot"] or self.new_name
        found = self.known.get(row["spot"])
        if found:
            offered = {
                "before_um": found.film_um,
                "x_mm": found.x_mm,
                "y_mm": found.y_mm,
                "area": found.area,
            }
            row |= {name: text for name, text in offered.items() if not row[name]}
        row["after_um"] = self._mean_after()
        return row

    def _mean_after(self) -> str:
        numbers = []
        for text in filter(None, self.after_as_typed()):
            checked = check_cell(text, _AFTER, separator=_NO_COLUMNS)
            if isinstance(checked, Refusal):
                self.add_error(None, f"after is “{text}”; {checked.rule}. {checked.remedy}")
            else:
                numbers.append(float(checked))
        return mean_text(numbers)


class PolishCorrectionForm(ReasonMixin, RowForm):
    """What a reading should have been, and why."""

    table = "polish"
    spot = cell("spot", WORDS)
    area = cell("area", WORDS, required=False)
    before_um = cell("before µm", NUMBER)
    after_um = cell("after µm", NUMBER)
    passes = cell("passes", {**NUMBER, "inputmode": "numeric"})
    process = cell("machine, pad, compound", WORDS, required=False)
    gauge = cell("gauge", WORDS, required=False)
    x_mm = cell("x mm", NUMBER, required=False)
    y_mm = cell("y mm", NUMBER, required=False)


class AskForm(forms.Form):
    """Asked chance that every spot stays above its floor."""

    chance = forms.FloatField(
        label="Asked chance, %",
        min_value=50,
        max_value=99.9,
        widget=forms.TextInput(attrs={**NUMBER, "size": 4}),
    )


def mean_text(numbers: list[float]) -> str:
    """Mean to a tenth without idle zeros; empty for nothing.

    Examples
    --------
    >>> mean_text([181.0, 182.0]), mean_text([])
    ('181.5', '')
    """
    return f"{round(sum(numbers) / len(numbers), 1):g}" if numbers else ""
