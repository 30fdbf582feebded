"""The forms of the decisions: a lock with its reason, and the brief."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from asfound.desk.templatetags.desk import trade

_HOURS, _ZONE = "hours:", "zone:"
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


class BriefForm(forms.Form):
    """The owner's limits: a field a trade, a field a zone."""

    name = forms.CharField(label="Name of the brief", max_length=200, required=False)
    note = forms.CharField(
        label="Note", max_length=4000, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(
        self, *args: Any, trades: Sequence[str], zones: Sequence[str], currency: str, **rest: Any
    ) -> None:
        super().__init__(*args, **rest)
        self.fields["cost_max"] = Limit(f"Cost at most{f', {currency}' if currency else ''}")
        for name in trades:
            self.fields[_HOURS + name] = Limit(trade(name))
        for name in zones:
            self.fields[_ZONE + name] = Limit(name, most=5)

    @property
    def hours(self) -> list[forms.BoundField]:
        """Fields of the trades."""
        return [self[name] for name in self.fields if name.startswith(_HOURS)]

    @property
    def zones(self) -> list[forms.BoundField]:
        """Fields of the zones."""
        return [self[name] for name in self.fields if name.startswith(_ZONE)]

    def content(self, old: Mapping[str, Any]) -> dict[str, Any]:
        """The brief as ``brief.json`` has it; keys that the form does not know are kept."""
        data = self.cleaned_data
        return {
            **old,
            "name": data["name"] or None,
            "cost_max": data["cost_max"],
            "hours_max": self._limits(_HOURS) or None,
            "min_grade": self._limits(_ZONE) or None,
            "note": data["note"] or None,
        }

    def _limits(self, prefix: str) -> dict[str, float]:
        return {
            name.removeprefix(prefix): value
            for name, value in self.cleaned_data.items()
            if name.startswith(prefix) and value is not None
        }


def initial_of_brief(content: Mapping[str, Any]) -> dict[str, Any]:
    """What the form of the brief begins with."""
    limits = {
        **{_HOURS + k: v for k, v in (content.get("hours_max") or {}).items()},
        **{_ZONE + k: v for k, v in (content.get("min_grade") or {}).items()},
        "cost_max": content.get("cost_max"),
    }
    shown = {name: _digits(value) for name, value in limits.items() if value is not None}
    return {**shown, "name": content.get("name") or "", "note": content.get("note") or ""}


def _digits(value: float) -> str:
    """Number with every digit it has, so that keeping the form unchanged changes nothing."""
    text = f"{value:.10f}".rstrip("0").rstrip(".")
    return text if float(text) == value else repr(value)
