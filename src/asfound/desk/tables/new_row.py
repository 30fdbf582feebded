"""A row typed into a form and added to a table that is edited whole."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.base import InputError
from asfound.desk.tables.checking import check_rows
from asfound.desk.tables.fault_words import in_words
from asfound.desk.tables.grid import columns_of
from asfound.record.actions import set_sheet
from asfound.record.folder import CarFolder
from asfound.record.models import Car


class NewRow(forms.Form):
    """A row to be added to a table that is edited whole."""

    table = ""

    def __init__(self, *args: Any, folder: CarFolder, **options: Any) -> None:
        super().__init__(*args, **options)
        self.folder = folder
        self.rows: tuple[dict[str, str], ...] = ()

    def cells(self, typed: dict[str, Any]) -> dict[str, str]:
        """Cells of the new row."""
        raise NotImplementedError

    def clean(self) -> dict[str, Any]:
        """Typed values; the whole table with the new row stands in ``rows``."""
        typed = super().clean() or {}
        if self.errors:
            return typed
        there = self.beside()
        columns = columns_of(self.table, there)
        new = self.cells(typed)
        checked = check_rows([*there, new], columns, table=self.table, folder=self.folder)
        for fault in checked.faults:
            field = fault.column if fault.column in self.fields else None
            told = in_words(fault, table=self.table)
            self.add_error(self.field_of(fault.column) or field, f"{told.rule}. {told.remedy}")
        self.rows = checked.rows
        return typed

    def beside(self) -> list[dict[str, str]]:
        """Rows that stay as they are beside the new one."""
        return [dict(row.cells) for row in self.folder.sheet(self.table)]

    def field_of(self, column: str) -> str | None:
        """Field of the form that fills a column of another name."""
        return None

    def keep(self, car: Car, *, by: Any) -> bool:
        """Whether the table with the new row was written; if not, the form says why."""
        try:
            seen = [row.cells for row in self.folder.sheet(self.table)]
            set_sheet(car=car, table=self.table, rows=self.rows, by=by, seen=seen)
        except InputError as error:
            self.add_error(None, error.remedy or str(error))
            return False
        return True
