"""One cell of a table as a field of a form."""

from __future__ import annotations

from typing import Any

from django import forms

from asfound.desk.tables.fault_words import fault_words
from asfound.exchange.cells import Refusal, check_cell
from asfound.exchange.numbers import without_unit
from asfound.record.faults import Fault
from asfound.record.tables import Column
from asfound.record.tables.words import column_words

NO_COLUMNS = ";"
"""A number typed into a field stands between no commas, so a decimal comma is plain."""


class TableCell(forms.CharField):
    """A cell, checked by the rule that its column declares."""

    def __init__(self, column: Column, **options: Any) -> None:
        super().__init__(**{"max_length": 200, **options})
        self.column = column
        self.error_messages["required"] = (
            f"{column_words(column.name)} is empty; fill it or tap the panel."
        )
        if column.unit:
            self.widget.attrs |= {"inputmode": "decimal", "autocomplete": "off"}

    def clean(self, value: Any) -> str:
        """Text of the cell as the folder writes it."""
        text = without_unit(super().clean(value), self.column)
        if not text:
            return ""
        checked = check_cell(text, self.column, separator=NO_COLUMNS)
        if isinstance(checked, Refusal):
            name, rule, remedy = self.column.name, checked.rule, checked.remedy
            fault = Fault(file="", column=name, value=text, rule=rule, remedy=remedy)
            raise forms.ValidationError(fault_words(fault))
        return checked
