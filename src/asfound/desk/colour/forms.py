"""The forms of a colour reading: entering one, and correcting one."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms

from asfound.desk.tables.checking import check_rows
from asfound.record.folder import CarFolder
from asfound.record.tables import TABLES

COLOUR = TABLES["colour"]
EXPOSURES = (("exposed", "exposed"), ("hidden", "hidden"))
_WORDS = {"autocomplete": "off"}
_NUMBER = {"autocomplete": "off", "inputmode": "decimal"}
_SIGNED = {"autocomplete": "off", "inputmode": "text"}
"""A number pad for decimals has no minus on some phones."""


def _cell(label: str, attributes: dict[str, str], *, required: bool = True) -> forms.CharField:
    widget = forms.TextInput(attrs=attributes)
    return forms.CharField(label=label, max_length=80, required=required, widget=widget)


class ColourForm(forms.Form):
    """One reading: its place, L*, a*, b*, and how it was viewed."""

    L = _cell("L*", _NUMBER)
    a = _cell("a*", _SIGNED)
    b = _cell("b*", _SIGNED)
    x_mm = _cell("x mm", _NUMBER)
    y_mm = _cell("y mm", _NUMBER)
    exposure = forms.ChoiceField(choices=EXPOSURES, widget=forms.RadioSelect)
    illuminant = _cell("light", _WORDS, required=False)
    observer = _cell("observer", _WORDS, required=False)
    instrument = _cell("instrument", _WORDS, required=False)
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    use_required_attribute = False
    """The place may be folded away, where a browser could not ask for it."""

    def __init__(self, *args: Any, folder: CarFolder, of: dict[str, str], **options: Any) -> None:
        super().__init__(*args, **options)
        self.folder, self.of = folder, of
        self.initial.setdefault("key", uuid.uuid4().hex)
        self.initial.setdefault("exposure", "exposed")

    def clean(self) -> dict[str, Any]:
        """Cells as the record keeps them, under the rules of ``colour.csv``."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors:
            return cleaned
        names = [column.name for column in COLOUR.columns if column.name in cleaned]
        row = {**self.of, **{name: cleaned[name].strip() for name in names}}
        checked = check_rows([row], COLOUR.columns, table="colour", folder=self.folder)
        for fault in checked.faults:
            told = f"{fault.column} is “{fault.value}”; {fault.rule}. {fault.remedy}"
            self.add_error(fault.column if fault.column in self.fields else None, told)
        cleaned["cells"] = dict(checked.rows[0]) if checked.rows else {}
        return cleaned


class ColourCorrectionForm(ColourForm):
    """What a reading should have been, and why."""

    reason = _cell("Why", _WORDS)
