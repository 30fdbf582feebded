"""Forms of one row of an observed table, checked by the rules of that table."""

from __future__ import annotations

import uuid
from typing import Any

from django import forms

from asfound.desk.survey.places import check_on_panel
from asfound.desk.tables.checking import Checked, check_rows
from asfound.desk.tables.fault_words import fault_words
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.tables import TABLES

WORDS = {"autocomplete": "off"}
NUMBER = {"autocomplete": "off", "inputmode": "decimal"}


def cell(label: str, attributes: dict[str, str], *, required: bool = True) -> forms.CharField:
    """Field of one cell."""
    widget = forms.TextInput(attrs=attributes)
    return forms.CharField(label=label, max_length=120, required=required, widget=widget)


class RowForm(forms.Form):
    """A row whose fields bear the names of the table's columns.

    ``table`` is set by the form; ``fixed`` are cells that the page knows. A valid form has the
    row in ``cleaned_data["cells"]``, as the record keeps it.
    """

    table = ""
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def __init__(
        self, *args: Any, folder: CarFolder, fixed: dict[str, str], **options: Any
    ) -> None:
        super().__init__(*args, **options)
        self.folder, self.fixed = folder, fixed
        self.initial.setdefault("key", uuid.uuid4().hex)

    def typed(self, cleaned: dict[str, Any]) -> dict[str, str]:
        """Cells as they were typed."""
        names = [column.name for column in TABLES[self.table].columns if column.name in cleaned]
        return {name: str(cleaned[name]).strip() for name in names}

    def clean(self) -> dict[str, Any]:
        """Cells as the record keeps them, under the rules of the table's file."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        if self.errors:
            return cleaned
        row = {**self.fixed, **self.typed(cleaned)}
        checked = self.check(row)
        for fault in checked.faults:
            told = fault_words(fault, table=self.table)
            self.add_error(fault.column if fault.column in self.fields else None, told)
        cleaned["cells"] = dict(checked.rows[0]) if checked.rows else {}
        self._check_place(cleaned["cells"])
        return cleaned

    def check(self, row: dict[str, str]) -> Checked:
        """Row under the rules of its table, or what is wrong with it."""
        columns = TABLES[self.table].columns
        return check_rows([row], columns, table=self.table, folder=self.folder)

    def _check_place(self, cells: dict[str, str]) -> None:
        """A place off its panel is asked back."""
        if not all(cells.get(name) for name in ("panel", "x_mm", "y_mm")):
            return
        x_mm, y_mm = float(cells["x_mm"]), float(cells["y_mm"])
        try:
            check_on_panel(self.folder, panel=cells["panel"], x_mm=x_mm, y_mm=y_mm)
        except InputFaultsError as error:
            self.add_error(None, " ".join(f"{f.rule}. {f.remedy}" for f in error.faults))


class ReasonMixin(forms.Form):
    """Why a reading is corrected."""

    reason = forms.CharField(
        label="Why", max_length=400, widget=forms.TextInput(attrs={"autocomplete": "off"})
    )
