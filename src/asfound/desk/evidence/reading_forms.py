"""Forms for one number read on the car and one reading of its odometer."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms

from asfound.desk.observed.forms import NUMBER, WORDS
from asfound.desk.tables.new_row import NewRow
from asfound.record.actions import add_to_sheet
from asfound.record.models import Car

KINDS = ("chassis", "engine", "gearbox", "axle", "body", "key", "paint", "trim")
_METHODS = ("stamped", "cast", "plate", "label", "painted", "engraved", "written")
_AS_READ = {
    **WORDS,
    "autocapitalize": "characters",
    "autocorrect": "off",
    "spellcheck": "false",
    "class": "mark-text",
}
_DAY = "Such as 1966-08-30; 1966-08 or 1966 if the paper says no more."


def _words(label: str, *, required: bool = False, **more: Any) -> forms.CharField:
    attributes = {**WORDS, **more.pop("attrs", {})}
    widget = forms.TextInput(attrs=attributes)
    return forms.CharField(label=label, required=required, max_length=200, widget=widget, **more)


class AtTheCar(NewRow):
    """A row that waits on the device while there is no network, and is kept once by its key."""

    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("key", uuid.uuid4().hex)

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """Cells of the new row, without needless spaces."""
        names = [name for name in self.fields if name not in ("key", "photo")]
        return {name: " ".join(str(typed[name]).split()) for name in names}

    def add(self, car: Car, *, by: Any, **more: str) -> bool:
        """Whether the new row was written, with more cells; not if it came before."""
        row, key = {**self.rows[-1], **more}, self.cleaned_data["key"]
        return add_to_sheet(car=car, table=self.table, row=row, by=by, key=key) is not None


class NumberForm(AtTheCar):
    """A number as somebody reads it on the car, with its photograph."""

    table = "identifiers"
    expected_fields = ("expected", "expected_source", "surface_note", "part")
    """What can wait until somebody sits at a table."""
    photo = forms.FileField(
        label="photograph",
        required=False,
        help_text="square on, with a scale beside the number",
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
    )
    kind = _words("of what it is the number", required=True, attrs={"list": "kinds"})
    text_as_read = _words(
        "as it reads, character by character",
        required=True,
        attrs=_AS_READ,
        help_text="with a ? for each that cannot be read",
    )
    method = forms.ChoiceField(label="how it is made", choices=[(m, m) for m in _METHODS])
    where = _words(
        "where it stands", required=True, help_text="such as: right rail, by the scuttle"
    )
    expected = _words("what it should read, if you know")
    expected_source = _words("from which paper you know it")
    surface_note = _words("the surface around it", help_text="such as: even strikes, no grinding")
    part = _words("on which part", attrs={"list": "parts"})


class MilesForm(AtTheCar):
    """What a paper or the dial says of the distance."""

    table = "odometer"
    reading = _words("the figure", required=True, attrs=NUMBER)
    unit = forms.ChoiceField(label="unit", choices=[("km", "km"), ("mile", "mile")])
    date = _words("on which day", required=True, help_text=_DAY)
    source = _words(
        "what says so", required=True, help_text="such as: invoice for new linings, the dial itself"
    )
    digits = _words(
        "figures on the dial", attrs=NUMBER, help_text="wheels before the tenths, if you see them"
    )
