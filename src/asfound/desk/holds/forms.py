"""Form of a hold."""

from __future__ import annotations

from django import forms

from asfound.desk.observed.forms import WORDS, ReasonMixin, RowForm, cell
from asfound.record.tables.worked import HOLD_KINDS

_DAY = {"type": "date"}


class HoldForm(RowForm):
    """A hold on one task of a piece."""

    table = "holds"
    kind = forms.ChoiceField(label="waits for", choices=[(word, word) for word in HOLD_KINDS])
    why = cell("why", WORDS)
    waits_for = cell("which part, which specialist", WORDS, required=False)
    expected = cell("expected to end on", _DAY)


class CorrectHoldForm(ReasonMixin, HoldForm):
    """A hold told rightly, and why."""
