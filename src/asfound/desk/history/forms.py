"""The forms of the history: an event, a link, and how the workshop stands to a statement."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms

from asfound.desk.observed.forms import WORDS
from asfound.desk.tables.new_row import NewRow
from asfound.record.folder import CarFolder
from asfound.record.tables.history import KINDS_OF_EVENT

_EDTF = "Such as 1961, 1961-05-14, 1961~ (about), 1958/1963. Empty: not known."


class EventForm(NewRow):
    """Something that happened, and between when."""

    table = "events"
    event = forms.CharField(
        label="What happened",
        max_length=120,
        help_text="Such as: left door filled.",
        widget=forms.TextInput(attrs=WORDS),
    )
    kind = forms.ChoiceField(
        label="Kind",
        required=False,
        choices=[("", ""), *((kind, kind) for kind in KINDS_OF_EVENT)],
    )
    subject = forms.CharField(
        label="To which part or panel",
        required=False,
        max_length=120,
        widget=forms.TextInput(attrs={**WORDS, "list": "subjects"}),
    )
    not_before = forms.CharField(
        label="Not before",
        required=False,
        max_length=60,
        help_text=_EDTF,
        widget=forms.TextInput(attrs=WORDS),
    )
    not_after = forms.CharField(
        label="Not after",
        required=False,
        max_length=60,
        help_text=_EDTF,
        widget=forms.TextInput(attrs=WORDS),
    )
    note = forms.CharField(
        label="How you know",
        required=False,
        max_length=400,
        help_text="The paper, the mark or the finding, as it stands there.",
        widget=forms.TextInput(attrs=WORDS),
    )

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """Cells of the new event."""
        return {name: " ".join(str(typed[name]).split()) for name in self.fields}


_HOWS = (
    ("over", "lies over it, or came later", "0", ""),
    ("same", "was on the same day", "0", "0"),
    ("between", "came so long after it: from … to …", None, None),
    ("least", "came at least so long after it", None, ""),
    ("most", "came at most so long after it", "", None),
)


class LinkForm(NewRow):
    """Something that ties two events."""

    table = "event_links"
    distance = ("least", "most", "unit")
    """Fields that say how long, shown together."""
    end = forms.ChoiceField(label="The later event")
    how = forms.ChoiceField(
        label="How it is tied", choices=[(key, words) for key, words, *_ in _HOWS]
    )
    start = forms.ChoiceField(label="The earlier event")
    least = forms.CharField(
        label="From",
        required=False,
        max_length=12,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    most = forms.CharField(
        label="To",
        required=False,
        max_length=12,
        widget=forms.TextInput(attrs={"inputmode": "decimal"}),
    )
    unit = forms.ChoiceField(label="Unit", choices=[(u, f"{u}s") for u in ("year", "month", "day")])
    why = forms.CharField(
        label="How you know",
        required=False,
        max_length=400,
        help_text="Such as: the coat lies over the filler.",
        widget=forms.TextInput(attrs=WORDS),
    )

    def __init__(self, *args: Any, folder: CarFolder, **options: Any) -> None:
        super().__init__(*args, folder=folder, **options)
        names = [row.text("event") for row in folder.sheet("events")]
        for field in ("start", "end"):
            self.fields[field].choices = [("", "")] + [(name, name) for name in names]  # type: ignore[attr-defined]  # a choice field

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """Cells of the new link; a distance that the chosen words fix is theirs."""
        least, most = next((low, high) for key, _, low, high in _HOWS if key == typed["how"])
        known = {row.text("id") for row in self.folder.sheet("event_links")}
        return {
            "id": next_name(known),
            "from": typed["start"],
            "to": typed["end"],
            "min": str(typed["least"]).strip() if least is None else least,
            "max": str(typed["most"]).strip() if most is None else most,
            "unit": typed["unit"] if None in (least, most) else "day",
            "why": " ".join(str(typed["why"]).split()),
        }

    def field_of(self, column: str) -> str | None:
        """Field that fills a column of the table."""
        return {"from": "start", "to": "end", "min": "least", "max": "most"}.get(column)


def next_name(known: Iterable[str]) -> str:
    """First name of the form k1, k2, … that is not taken.

    Examples
    --------
    >>> next_name({"k1", "k3"})
    'k2'
    """
    taken, number = set(known), 1
    while f"k{number}" in taken:
        number += 1
    return f"k{number}"
