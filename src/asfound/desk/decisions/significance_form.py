"""Grading one piece by every criterion, with a reason for each grade."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django import forms

from asfound.desk.decisions.forms import Limit
from asfound.weigh.significance import GRADES, Criterion, Graded

_NONE = ("", "not graded")


class SignificanceForm(forms.Form):
    """A grade and a reason a criterion, and the weight typed by hand."""

    def __init__(
        self,
        *args: Any,
        criteria: Sequence[Criterion],
        graded: Sequence[Graded],
        typed: float | None,
        **rest: Any,
    ) -> None:
        super().__init__(*args, **rest)
        self.criteria = criteria
        self.graded = {one.criterion: one for one in graded}
        grades = [_NONE, *((word, f"{word} ({counts})") for word, counts in GRADES.items())]
        for place, criterion in enumerate(criteria):
            there = self.graded.get(criterion.name)
            self.fields[f"grade-{place}"] = forms.ChoiceField(
                label=f"{criterion.name}: grade",
                choices=grades,
                required=False,
                initial=there.grade if there else "",
            )
            self.fields[f"reason-{place}"] = forms.CharField(
                label="Why",
                max_length=1000,
                required=False,
                initial=there.reason if there else "",
                widget=forms.TextInput(attrs={"autocomplete": "off"}),
            )
        self.fields["weight"] = Limit("Weight typed by hand")
        self.fields["weight"].help_text = "It goes before the criteria. Empty: they make it."
        self.fields["weight"].initial = "" if typed is None else f"{typed:g}"

    def lines(self) -> list[tuple[Criterion, forms.BoundField, forms.BoundField, str]]:
        """Each criterion with its fields, and who graded it."""
        return [
            (
                criterion,
                self[f"grade-{place}"],
                self[f"reason-{place}"],
                self.graded[criterion.name].by if criterion.name in self.graded else "",
            )
            for place, criterion in enumerate(self.criteria)
        ]

    def clean(self) -> dict[str, Any]:
        """Values in which every grade has a reason."""
        data = super().clean() or {}
        for place, criterion in enumerate(self.criteria):
            if data.get(f"grade-{place}") and not data.get(f"reason-{place}", "").strip():
                words = f"Say why {criterion.name} is graded so, or leave it not graded."
                self.add_error(f"reason-{place}", words)
        return data

    def rows(self, by: str) -> list[dict[str, str]]:
        """Rows of the table; one that was not changed keeps who said it."""
        made = []
        for place, criterion in enumerate(self.criteria):
            grade = self.cleaned_data[f"grade-{place}"]
            reason = self.cleaned_data[f"reason-{place}"].strip()
            there = self.graded.get(criterion.name)
            same = there is not None and (there.grade, there.reason) == (grade, reason)
            row = {"criterion": criterion.name, "grade": grade, "reason": reason}
            if grade:
                made.append({**row, "by": there.by if there and same else by})
        return made
