"""Every column of a table that people edit whole is called by words on its page."""

from __future__ import annotations

import re

import pytest

from asfound.desk.tables.fault_words import fault_words, in_words
from asfound.record.actions import EDITED_WHOLE
from asfound.record.faults import Fault
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


def test_a_fault_of_a_grid_names_columns_as_the_heading_does() -> None:
    waits = "lag_hours must be 0 or more, and before must not be after"
    fault = Fault(file="task links", column="lag_hours", value="-1", rule=waits, remedy="Mend it.")
    assert fault_words(fault, table="task_links") == (
        "wait between the two is “-1”; wait between the two must be 0 or more, and before must "
        "not be after. Mend it."
    )
    other = Fault(file="wear", column="most_mm", value="1", rule="below least_mm", remedy="Swap.")
    assert in_words(other, table="wear").rule == "below least wear"
    assert other.column == "most_mm", "files and commands tell it as it stands there"


def test_words_are_of_columns_that_are_there() -> None:
    there = {column.name for table in TABLES.values() for column in table.columns}
    assert set(_WORDS) <= there
    assert [(t, c) for t, c in _OF_TABLE if c not in {x.name for x in TABLES[t].columns}] == []
