"""Every column of a table that people edit whole is called by words on its page."""

from __future__ import annotations

import re

import pytest

from asfound.record.actions import EDITED_WHOLE
from asfound.record.tables import TABLES
from asfound.record.tables.words import _OF_TABLE, _WORDS, column_words, heading

SHOWN = [(name, column) for name in (*EDITED_WHOLE, "options") for column in TABLES[name].columns]
FOR_PROGRAMS = re.compile(r"_|\b(mm|um|wkt|lr|id|min|max|u|h)$")


@pytest.mark.parametrize("table", [*EDITED_WHOLE, "options"])
def test_no_column_is_called_by_a_name_for_programs(table: str) -> None:
    told = {column.name: column_words(column.name, table=table) for column in TABLES[table].columns}
    allowed = {"u", "u_mm"}
    bad = {n: w for n, w in told.items() if n not in allowed and FOR_PROGRAMS.search(w)}
    assert bad == {}
    assert min(map(len, told.values())) > 1
    assert len(set(told.values())) == len(told), "two columns of one table are called the same"


def test_a_column_with_a_unit_says_it() -> None:
    silent = [
        (table, column.name)
        for table, column in SHOWN
        if column.unit
        and f"({column.unit})" not in heading(column, table=table)
        and not (column.unit == "h" and heading(column, table=table).startswith("hours"))
    ]
    assert silent == []


def test_words_are_of_columns_that_are_there() -> None:
    there = {column.name for table in TABLES.values() for column in table.columns}
    assert set(_WORDS) <= there
    assert [(t, c) for t, c in _OF_TABLE if c not in {x.name for x in TABLES[t].columns}] == []
