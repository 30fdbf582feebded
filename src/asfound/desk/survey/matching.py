"""The form that says which column of an uploaded file is which."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from django import forms

from asfound.desk.survey.guessing import guess
from asfound.desk.survey.told_tables import ToldTable, label_of
from asfound.desk.survey.upload import Match
from asfound.record.tables import Column

_NONE = ""
_ALL = "all-"
_DECIMALS = ((_NONE, "as found"), (".", "a point"), (",", "a comma"))


class MatchForm(forms.Form):
    """A choice of column for each thing that a reading needs, guessed or remembered."""

    decimal = forms.ChoiceField(label="decimal mark", choices=_DECIMALS, required=False)
    takes_off_panel = forms.BooleanField(
        label="Take places that lie off their panel all the same", required=False
    )
    remember_as = forms.CharField(
        label="Remember this matching as",
        max_length=100,
        required=False,
        help_text="The instrument, such as “blue gauge of the paint shop”. A file with the same "
        "head is then matched so next time, on any car. Empty: not remembered.",
    )

    def __init__(
        self,
        *args: Any,
        told: ToldTable,
        head: Sequence[str],
        names: Mapping[str, Sequence[str]],
        offers: Mapping[str, Sequence[str]],
        before: Match | None = None,
        **options: Any,
    ) -> None:
        super().__init__(*args, **options)
        self.told = told
        self.offers = {f"known-{name}": words for name, words in offers.items() if words}
        self.before = before or Match(places=guess(tuple(head), told.hints))
        places = [(str(i), name or f"column {i + 1}") for i, name in enumerate(head)]
        for column in told.columns:
            self.fields[column.name] = _which(column, places, self.before)
            if column.name in told.fixed:
                self.fields[_ALL + column.name] = _same(column, names, self.before)
        self.initial["decimal"] = self.before.decimal

    def columns(self) -> Iterable[forms.BoundField]:
        """Fields that say which column is which."""
        return [self[column.name] for column in self.told.columns]

    def fixed(self) -> Iterable[forms.BoundField]:
        """Fields that say what holds for every row."""
        return [self[_ALL + name] for name in self.told.fixed]

    def match(self) -> Match:
        """What the form says; what it offers while nobody said anything."""
        if not self.is_bound or not self.is_valid():
            return self.before
        said = self.cleaned_data
        return Match(
            places={c.name: int(said[c.name]) for c in self.told.columns if said[c.name] != _NONE},
            fixed={n: said[_ALL + n].strip() for n in self.told.fixed if said[_ALL + n].strip()},
            decimal=said["decimal"],
            takes_off_panel=said["takes_off_panel"],
        )


def _which(column: Column, places: list[tuple[str, str]], before: Match) -> forms.ChoiceField:
    empty = "choose" if column.required else "not in the file"
    return forms.ChoiceField(
        label=label_of(column.name),
        choices=[(_NONE, f"({empty})"), *places],
        initial=str(before.places.get(column.name, _NONE)),
        required=False,
    )


def _same(column: Column, names: Mapping[str, Sequence[str]], before: Match) -> forms.Field:
    """Choice where the words are known and no other is lawful, a line of text elsewhere."""
    label, initial = label_of(column.name), before.fixed.get(column.name, "")
    words = column.words or names.get(column.name, ())
    if words:
        known = [initial] if initial and initial not in words else []
        choices = [(_NONE, "(as the file says)"), *((word, word) for word in (*words, *known))]
        return forms.ChoiceField(label=label, choices=choices, initial=initial, required=False)
    hint = {"taken_at": "such as 2026-05-12"}.get(column.name, "")
    return forms.CharField(
        label=label,
        max_length=200,
        initial=initial,
        required=False,
        widget=forms.TextInput(
            attrs={"placeholder": hint, "autocomplete": "off", "list": f"known-{column.name}"}
        ),
    )
