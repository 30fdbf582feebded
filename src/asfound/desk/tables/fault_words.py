"""A fault as a page tells it: columns by the words of their headings."""

from __future__ import annotations

import re
from dataclasses import replace

from asfound.record.faults import Fault
from asfound.record.tables import TABLES
from asfound.record.tables.words import column_words


def in_words(fault: Fault, *, table: str) -> Fault:
    """Fault that calls the columns of its table as the page does.

    Files and the command line tell the names as they stand in the files.
    """
    rule, remedy = (_in_words(text, fault.column, table) for text in (fault.rule, fault.remedy))
    column = fault.column and column_words(fault.column, table=table)
    return replace(fault, column=column, rule=rule, remedy=remedy)


def fault_words(fault: Fault, *, table: str = "") -> str:
    """What stands there, the rule and the remedy, as one line of a page.

    Examples
    --------
    >>> rule = "thickness_um cannot be negative"
    >>> fault = Fault(file="film", column="thickness_um", value="-4", rule=rule, remedy="Zero it.")
    >>> fault_words(fault)
    'thickness is “-4”; thickness cannot be negative. Zero it.'
    """
    told = in_words(fault, table=table)
    met = f"{told.column} is “{told.value}”; " if told.column else ""
    return f"{met}{told.rule}. {told.remedy}"


def _in_words(text: str, column: str, table: str) -> str:
    """Text with the fault's own column at its head, and names that no sentence has, in words."""
    if column:
        text = re.sub(rf"^{re.escape(column)}\b", column_words(column, table=table), text)
    declared = TABLES[table].columns if table in TABLES else ()
    for name in (one.name for one in declared if "_" in one.name):
        text = re.sub(rf"\b{re.escape(name)}\b", column_words(name, table=table), text)
    return text
