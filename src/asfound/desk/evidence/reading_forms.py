"""Forms for one number read on the car and one reading of its odometer."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.desk.observed.forms import NUMBER, WORDS
from asfound.desk.tables.new_row import NewRow

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


class NumberForm(NewRow):
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

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """Cells of the new number."""
        names = [name for name in self.fields if name != "photo"]
        return {name: " ".join(str(typed[name]).split()) for name in names}


class MilesForm(NewRow):
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

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """Cells of the new reading."""
        return {name: " ".join(str(typed[name]).split()) for name in self.fields}
