"""The brief as a form: a field a trade, a zone, a treatment."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django import forms

from asfound.desk.decisions.forms import Limit
from asfound.desk.templatetags.desk import trade

HOURS, ZONE, TOUCH, EVIDENCE = "hours:", "zone:", "touch:", "evidence:"
PIECES = "pieces"


class BriefForm(forms.Form):
    """The owner's limits: money, hours, floors, what must not be touched, what needs evidence."""

    name = forms.CharField(label="Name of the brief", max_length=200, required=False)
    note = forms.CharField(
        label="Note", max_length=4000, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )
    pieces = forms.CharField(
        label="Single pieces that must not be touched",
        max_length=8000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 2}),
        help_text="One a line, as the pieces are called.",
    )

    def __init__(
        self,
        *args: Any,
        trades: Sequence[str],
        zones: Sequence[str],
        treatments: Sequence[str],
        known: Sequence[str],
        currency: str,
        **rest: Any,
    ) -> None:
        super().__init__(*args, **rest)
        self.known = known
        self.fields["cost_max"] = Limit(f"Cost at most{f', {currency}' if currency else ''}")
        for name in trades:
            self.fields[HOURS + name] = Limit(trade(name))
        for name in zones:
            self.fields[ZONE + name] = Limit(name, most=5)
        for name in zones:
            self.fields[TOUCH + name] = forms.BooleanField(label=name, required=False)
        for name in treatments:
            self.fields[EVIDENCE + name] = forms.BooleanField(label=name, required=False)

    def _of(self, prefix: str) -> list[forms.BoundField]:
        return [self[name] for name in self.fields if name.startswith(prefix)]

    @property
    def hours(self) -> list[forms.BoundField]:
        """Fields of the trades."""
        return self._of(HOURS)

    @property
    def zones(self) -> list[forms.BoundField]:
        """Floors of the zones."""
        return self._of(ZONE)

    @property
    def untouched(self) -> list[forms.BoundField]:
        """Whether each zone must not be touched."""
        return self._of(TOUCH)

    @property
    def evidence(self) -> list[forms.BoundField]:
        """Whether each treatment needs evidence."""
        return self._of(EVIDENCE)

    def clean_pieces(self) -> list[str]:
        """Names of single pieces, each one that the car has."""
        names = list(dict.fromkeys(n.strip() for n in self.cleaned_data[PIECES].splitlines()))
        for name in filter(None, names):
            if name not in self.known:
                raise forms.ValidationError(
                    "The choice has no piece called “%(name)s”. Write it as its page calls it.",
                    params={"name": name},
                )
        return [name for name in names if name]

    def content(self, old: Mapping[str, Any]) -> dict[str, Any]:
        """The brief as ``brief.json`` has it; keys that the form does not know are kept."""
        data = self.cleaned_data
        terms = {
            "untouched": [*self._ticked(TOUCH), *data[PIECES]],
            "needs_evidence": self._ticked(EVIDENCE),
        }
        return {
            **old,
            "name": data["name"] or None,
            "cost_max": data["cost_max"],
            "hours_max": self._limits(HOURS) or None,
            "min_grade": self._limits(ZONE) or None,
            "note": data["note"] or None,
            **{key: names or None for key, names in terms.items() if names or old.get(key)},
        }

    def _limits(self, prefix: str) -> dict[str, float]:
        return {
            name.removeprefix(prefix): value
            for name, value in self.cleaned_data.items()
            if name.startswith(prefix) and value is not None
        }

    def _ticked(self, prefix: str) -> list[str]:
        return [
            name.removeprefix(prefix)
            for name, value in self.cleaned_data.items()
            if name.startswith(prefix) and value
        ]


def initial_of_brief(content: Mapping[str, Any], *, zones: Sequence[str]) -> dict[str, Any]:
    """What the form of the brief begins with."""
    limits = {
        **{HOURS + k: v for k, v in (content.get("hours_max") or {}).items()},
        **{ZONE + k: v for k, v in (content.get("min_grade") or {}).items()},
        "cost_max": content.get("cost_max"),
    }
    untouched = content.get("untouched") or []
    return {
        **{name: _digits(value) for name, value in limits.items() if value is not None},
        **{TOUCH + name: "yes" for name in untouched if name in zones},
        **{EVIDENCE + name: "yes" for name in content.get("needs_evidence") or []},
        PIECES: "\n".join(name for name in untouched if name not in zones),
        "name": content.get("name") or "",
        "note": content.get("note") or "",
    }


def _digits(value: float) -> str:
    """Number with every digit it has, so that keeping the form unchanged changes nothing."""
    text = f"{value:.10f}".rstrip("0").rstrip(".")
    return text if float(text) == value else repr(value)
