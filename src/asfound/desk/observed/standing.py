"""The form by which a statement is doubted, withdrawn, or let hold again."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.desk.observed.forms import WORDS

TOLD = {"holds": "counts again", "doubted": "is doubted", "withdrawn": "is withdrawn"}


class StandingForm(forms.Form):
    """Whether a statement counts, and why not."""

    standing = forms.ChoiceField(
        label="How the workshop stands to it",
        choices=(
            ("holds", "It holds: it counts"),
            ("doubted", "It is doubted: it stays and does not count"),
            ("withdrawn", "It is withdrawn: it was a mistake and does not count"),
        ),
        widget=forms.RadioSelect,
    )
    why = forms.CharField(
        label="Why", required=False, max_length=400, widget=forms.TextInput(attrs=WORDS)
    )

    def clean(self) -> dict[str, Any]:
        """Typed values; what does not count has a reason, what counts needs none."""
        typed = super().clean() or {}
        if typed.get("standing") == "holds":
            return {**typed, "why": ""}
        if typed.get("standing") and not typed.get("why"):
            self.add_error("why", "Say why the statement does not count.")
        return typed
