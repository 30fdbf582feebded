"""One row of a sheet becomes the fields of a model, and fields become cells."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import cache
from typing import Any

from django.core.exceptions import FieldDoesNotExist
from django.db import models

from asfound.record.folder import Row
from asfound.record.tables import TABLES, Form, Table

HOURS = "hours_"
_NUMBERS = (Form.NUMBER, Form.INTEGER)
_YES_NO = {"yes": True, "no": False, "": None}
_WORDS = {answer: word for word, answer in _YES_NO.items()}


def fields_of(row: Row, table: Table, model: type[models.Model]) -> dict[str, Any]:
    """Values of a model's fields; what has no field goes to ``extra``, hours to ``hours``."""
    fields: dict[str, Any] = {}
    extra: dict[str, str] = {}
    hours: dict[str, float | None] = {}
    for column, text in row.cells.items():
        if table.prefix and column.startswith(table.prefix):
            hours[column.removeprefix(table.prefix)] = _number(text)
        elif (form := _form_of(table.name, model, column)) is not None:
            fields[column] = _value(text, form)
        else:
            extra[column] = text
    return fields | {"extra": extra} | ({"hours": hours} if table.prefix else {})


def cell_of(row: models.Model, column: str, table: Table) -> str:
    """Cell of that column, with numbers in their shortest form."""
    if table.prefix and column.startswith(table.prefix):
        return shortest(row.hours.get(column.removeprefix(table.prefix)))  # type: ignore[attr-defined]  # options have hours
    form = _form_of(table.name, type(row), column)
    if form is None:
        return str(row.extra.get(column, ""))  # type: ignore[attr-defined]  # every row has it
    value = getattr(row, column)
    if form in _NUMBERS:
        return shortest(value)
    return _WORDS[value] if form is Form.YES_NO else str(value)


def cells_of(
    rows: models.QuerySet[Any], head: tuple[str, ...], table: Table
) -> Iterator[tuple[str, ...]]:
    """Cells of every row, as ``cell_of`` gives them; how to read a column is settled once."""
    model: Any = rows.model
    beside = ["extra", "hours"] if table.prefix else ["extra"]
    fields = [name for name in head if _form_of(table.name, model, name) is not None]
    places = {name: place for place, name in enumerate((*beside, *fields))}
    readers = [_reader(name, places, table, model) for name in head]
    for row in rows.values_list(*beside, *fields):
        yield tuple([read(row) for read in readers])


def _reader(
    column: str, places: Mapping[str, int], table: Table, model: type[models.Model]
) -> Callable[[tuple[Any, ...]], str]:
    if table.prefix and column.startswith(table.prefix):
        hours, kind = places["hours"], column.removeprefix(table.prefix)
        return lambda row: shortest(row[hours].get(kind))
    form, extra = _form_of(table.name, model, column), places["extra"]
    if form is None:
        return lambda row: str(row[extra].get(column, ""))
    place = places[column]
    if form in _NUMBERS:
        return lambda row: shortest(row[place])
    if form is Form.YES_NO:
        return lambda row: _WORDS[row[place]]
    return lambda row: str(row[place])


def shortest(value: float | None) -> str:
    """Fewest digits that read back as the same number; empty for none.

    Examples
    --------
    >>> shortest(12.0), shortest(0.1), shortest(None)
    ('12', '0.1', '')
    """
    return "" if value is None else repr(float(value)).removesuffix(".0")


@cache
def _form_of(table: str, model: type[models.Model], column: str) -> Form | None:
    """Form of a column that has a field of its own; a sheet asks for it once a cell.

    Only declared columns have fields: one that happens to be called ``reason`` is extra.
    """
    declared = {one.name: one.form for one in TABLES[table].columns}
    if column not in declared:
        return None
    try:
        model._meta.get_field(column)
    except FieldDoesNotExist:
        return None
    return declared[column]


def _value(text: str, form: Form) -> Any:
    if form in _NUMBERS:
        return _number(text)
    return _YES_NO[text] if form is Form.YES_NO else text


def _number(text: str) -> float | None:
    return float(text) if text else None
