"""The forms of a colour reading: entering one, and correcting one."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.desk.observed.forms import NUMBER, WORDS, ReasonMixin, RowForm, cell

EXPOSURES = (("exposed", "exposed"), ("hidden", "hidden"))
_SIGNED = {"autocomplete": "off", "inputmode": "text"}
"""A number pad for decimals has no minus on some phones."""

_READ = {"required": "", "data-number": ""}
"""What the instrument shows, in the order of the boxes."""


class ColourForm(RowForm):
    """One reading: its place, L*, a*, b*, and how it was viewed."""

    table = "colour"
    use_required_attribute = False
    """The place may be folded away, where a browser could not ask for it."""

    L = cell("L*", NUMBER | _READ)
    a = cell("a*", _SIGNED | _READ)
    b = cell("b*", _SIGNED | _READ)
    x_mm = cell("x mm", NUMBER)
    y_mm = cell("y mm", NUMBER)
    exposure = forms.ChoiceField(choices=EXPOSURES, widget=forms.RadioSelect)
    illuminant = cell("light", WORDS, required=False)
    observer = cell("observer", WORDS, required=False)
    instrument = cell("instrument", WORDS, required=False)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("exposure", "exposed")


class ColourCorrectionForm(ReasonMixin, ColourForm):
    """What a reading should have been, and why."""
