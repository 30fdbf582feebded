"""The form of a lock with its reason, and a field for a limit."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django import forms

_PERHAPS_THOUSANDS = re.compile(r"[+-]?\d{1,3}(,\d{3}|\.\d\d0)")
"""7,000 and 7.000 are seven thousand to some and seven to others; a number shown by the form
itself has no zero at its end."""


class LockForm(forms.Form):
    """An option of one subject, and why a person fixes it."""

    option = forms.ChoiceField(
        error_messages={
            "required": "Choose one of the ways to treat it.",
            "invalid_choice": "That way is not open for this piece. Choose one of those shown.",
        }
    )
    reason = forms.CharField(
        label="Why",
        max_length=1000,
        widget=forms.Textarea(attrs={"rows": 2}),
        error_messages={"required": "Say why: who reads this in ten years was not here."},
    )

    def __init__(self, *args: Any, options: Sequence[str], **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["option"].choices = [(name, name) for name in options]  # type: ignore[attr-defined]  # a ChoiceField


class Limit(forms.FloatField):
    """A limit that may be left empty; a decimal comma is understood."""

    def __init__(self, label: str, *, most: float | None = None) -> None:
        super().__init__(
            label=label,
            min_value=0,
            max_value=most,
            required=False,
            widget=forms.TextInput(attrs={"inputmode": "decimal", "autocomplete": "off"}),
            error_messages={
                "invalid": "Write a plain number, with no mark for thousands; "
                "leave it empty for no limit.",
                "min_value": "A limit cannot be negative; leave it empty for no limit.",
                "max_value": "The finish goes from 0 to %(limit_value)s.",
            },
        )

    def to_python(self, value: Any) -> Any:
        """Number, or none for no limit."""
        if not isinstance(value, str):
            return super().to_python(value)
        if _PERHAPS_THOUSANDS.fullmatch(value.strip()):
            raise forms.ValidationError(
                "“%(value)s” could mean thousands or decimals. Write it without the mark.",
                params={"value": value.strip()},
            )
        return super().to_python(value.replace(",", "."))
