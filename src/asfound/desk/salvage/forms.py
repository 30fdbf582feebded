"""Forms of the salvage stock, checked by the rules of its table."""

from __future__ import annotations

import uuid
from collections.abc import Mapping
from typing import Any

import shapely
from django import forms

from asfound.craft.photographs import BESIDE_IT
from asfound.desk.observed.forms import NUMBER, WORDS, cell
from asfound.desk.tables.cell import NO_COLUMNS
from asfound.desk.tables.fault_words import fault_words
from asfound.exchange import check_written
from asfound.exchange.dialect import Written
from asfound.record.faults import Fault
from asfound.record.models.salvage_piece import Nap
from asfound.record.tables import Column, Form, Table
from asfound.record.tables.form import number
from asfound.record.tables.salvage import MOST_COUNTED

_SIGNED = {"autocomplete": "off", "inputmode": "text"}
_SIZES = (number("width_mm", "mm", least=1), number("height_mm", "mm", least=1))
KINDS = ("hide", "cloth", "carpet", "hood cloth", "rubber", "glass", "fixings", "trim")
"""Kinds to offer before any was written."""


def offered(label: str, listed: str, *, required: bool = True, help_text: str = "") -> Any:
    """Field of words with a list of what was written before."""
    field = cell(label, {**WORDS, "list": listed}, required=required)
    field.help_text = help_text
    return field


def checked_row(
    row: Mapping[str, str], table: Table, *, more: tuple[Column, ...] = ()
) -> tuple[dict[str, str], list[Fault]]:
    """Cells as the record keeps them, with what is wrong with them."""
    wider = Table(name=table.name, columns=(*table.columns, *more))
    names = [column.name for column in wider.columns if column.name in row]
    cells = tuple(str(row[name]).strip() for name in names)
    written = Written(separator=NO_COLUMNS, head=tuple(names), rows=((1, cells),))
    sheet, faults = check_written(written, wider, file=table.name)
    first = next(iter(sheet), None) if sheet is not None else None
    return ({} if first is None else dict(first.cells)), faults


class SizedForm(forms.Form):
    """A row with an outline that two lengths may stand for.

    A valid form has the row in ``cleaned_data["cells"]``.
    """

    table: Table
    width_mm = cell("width mm", NUMBER, required=False)
    height_mm = cell("height mm", NUMBER, required=False)

    def clean(self) -> dict[str, Any]:
        """Cells under the rules of the table; two lengths become a rectangle."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors:
            return cleaned
        known = {column.name for column in self.table.columns} | {"width_mm", "height_mm"}
        # A photograph that comes with the row is kept beside it, not in it.
        typed = {name: value for name, value in cleaned.items() if isinstance(value, str)}
        row = {name: value for name, value in typed.items() if name in known}
        cells, faults = checked_row(row, self.table, more=_SIZES)
        for fault in faults:
            field = fault.column if fault.column in self.fields else None
            self.add_error(field, fault_words(fault, table=self.table.name))
        if not faults:
            cleaned["cells"] = self._sized(cells)
            self._check_colour(cleaned["cells"])
        return cleaned

    def _sized(self, cells: dict[str, str]) -> dict[str, str]:
        width, height = cells.pop("width_mm", ""), cells.pop("height_mm", "")
        if bool(width) != bool(height):
            self.add_error("width_mm", "Give both lengths, or neither.")
        elif width:
            cells["outline_wkt"] = rectangle(float(width), float(height))
        return cells

    def _check_colour(self, cells: dict[str, str]) -> None:
        told = [name for name in ("L", "a", "b") if cells.get(name)]
        if len(told) in (1, 2):
            self.add_error("L", "Give all of L*, a* and b*, or leave all three empty.")


def rectangle(width_mm: float, height_mm: float) -> str:
    """Outline of two lengths."""
    return str(shapely.to_wkt(shapely.box(0, 0, width_mm, height_mm), rounding_precision=1))


class ColourFields(forms.Form):
    """A colour as an instrument reads it."""

    L = cell("L*", NUMBER, required=False)
    a = cell("a*", _SIGNED, required=False)
    b = cell("b*", _SIGNED, required=False)


class AddForm(SizedForm):
    """A piece at the bench: a photograph, what it is, where it lies; the rest later."""

    photo = forms.FileField(
        label="photograph",
        required=False,
        widget=forms.FileInput(attrs={"accept": "image/*", "capture": "environment"}),
        help_text=BESIDE_IT,
    )
    kind = offered("kind", "kinds", help_text="hide, cloth, carpet, glass, fixings …")
    name = offered("what it is", "names")
    place = offered("where it lies", "places", required=False)
    source_car = offered("from which car", "cars", required=False)
    made = cell("made", WORDS, required=False)
    count = cell("how many", {"autocomplete": "off", "inputmode": "numeric"}, required=False)
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("key", uuid.uuid4().hex)
        self.fields["made"].help_text = "a year, or a span: 1958/1963"
        self.fields["count"].help_text = "of what is counted: clips, buttons"


class EditForm(SizedForm, ColourFields):
    """All that is known of a piece, and why it changes."""

    kind = offered("kind", "kinds")
    name = offered("what it is", "names")
    source_car = offered("from which car", "cars", required=False)
    made = cell("made", WORDS, required=False)
    thickness_mm = cell("thickness mm", NUMBER, required=False)
    count = cell("how many", {"autocomplete": "off", "inputmode": "numeric"}, required=False)
    nap = forms.ChoiceField(
        label="nap or grain", required=False, choices=[("", "none, or not known"), *Nap.choices]
    )
    nap_deg = cell("its direction °", NUMBER, required=False)
    note = cell("note", WORDS, required=False)
    reason = cell("Why", WORDS)
    seen = forms.IntegerField(widget=forms.HiddenInput)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["nap_deg"].help_text = "0 to the right, 90 down, on the outline as it is drawn"

    def clean(self) -> dict[str, Any]:
        """A nap with its direction, or neither."""
        cleaned = super().clean()
        cells = cleaned.get("cells", {})
        if bool(cells.get("nap")) != bool(cells.get("nap_deg")):
            self.add_error("nap", "Give the direction with how it runs, or neither.")
        return cleaned


class TakeForm(forms.Form):
    """Reserving or using of a piece."""

    what = forms.ChoiceField(choices=[("reserved", "reserve"), ("used", "use")])
    car = forms.CharField(required=False, max_length=200)
    need = forms.CharField(required=False, max_length=200)
    part = forms.CharField(required=False, max_length=200)
    count = forms.IntegerField(required=False, min_value=1, max_value=MOST_COUNTED)
    outline_wkt = forms.CharField(required=False, max_length=200_000)
    note = forms.CharField(required=False, max_length=400)

    def clean_outline_wkt(self) -> str:
        """Area as a polygon, or none."""
        text: str = self.cleaned_data["outline_wkt"]
        if not text:
            return ""
        column = Column(name="outline_wkt", form=Form.POLYGON)
        cells, faults = checked_row({"outline_wkt": text}, Table(name="area", columns=(column,)))
        if faults:
            raise forms.ValidationError("The area cannot be read; lay it out once more.")
        return cells["outline_wkt"]
