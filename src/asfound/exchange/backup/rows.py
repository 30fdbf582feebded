"""Rows of the database as lines of JSON, alike whichever database they are in."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from itertools import islice
from typing import IO, Any
from uuid import UUID

from django.core.management.color import no_style
from django.db import connection, models

Model = type[models.Model]
_BATCH = 2_000
_LEFT_OUT = ("sessions", "contenttypes", "django_tasks_database")
"""Who is signed in now and what is being worked out are nobody's record, and kinds of content are
made by each database."""


def tables(apps: Any) -> list[Model]:
    """Models whose rows are backed up, those that join two others among them.

    Parameters
    ----------
    apps : registry of apps
        The installed ones, or those of an earlier state of the tables.
    """
    every = apps.get_models(include_auto_created=True)
    return sorted((m for m in every if _counts(m)), key=lambda m: m._meta.db_table)


def _counts(model: Model) -> bool:
    meta = model._meta
    if not meta.managed or meta.proxy or meta.app_label in _LEFT_OUT:
        return False
    targets = {f.related_model for f in meta.concrete_fields if f.is_relation}
    kinds = {target._meta.label_lower for target in targets if target}
    return meta.label_lower != "auth.permission" and "auth.permission" not in kinds


def write_rows(model: Model, sink: IO[bytes]) -> Iterator[int]:
    """Write every row as a line, in the order of the keys; yields how many were written since."""
    names = [field.attname for field in _fields(model)]
    rows = model._base_manager.order_by("pk").values_list(*names).iterator(chunk_size=_BATCH)
    while batch := list(islice(rows, _BATCH)):
        lines = (json.dumps(dict(zip(names, row, strict=True)), **_COMPACT) for row in batch)
        sink.write("".join(f"{line}\n" for line in lines).encode())
        yield len(batch)


def read_rows(model: Model, lines: Iterable[bytes]) -> Iterator[int]:
    """Put rows that were written into the table of the model; yields how many were put since."""
    fields = _fields(model)
    quote = connection.ops.quote_name
    columns = ", ".join(quote(field.column) for field in fields)
    marks = ", ".join(["%s"] * len(fields))
    statement = f"INSERT INTO {quote(model._meta.db_table)} ({columns}) VALUES ({marks})"  # noqa: S608 - names of our own tables
    rows = (_stored(json.loads(line), fields) for line in lines)
    with connection.cursor() as cursor:
        while batch := list(islice(rows, _BATCH)):
            cursor.executemany(statement, batch)
            yield len(batch)


def empty(models_: Sequence[Model]) -> None:
    """Take away what making the tables put into them."""
    with connection.cursor() as cursor:
        for model in models_:
            cursor.execute(f"DELETE FROM {connection.ops.quote_name(model._meta.db_table)}")  # noqa: S608 - names of our own tables


def count_on(models_: Sequence[Model]) -> None:
    """Let new keys follow the highest that was put in."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), list(models_)):
            cursor.execute(statement)


def _fields(model: Model) -> list[Any]:
    return [field for field in model._meta.concrete_fields if not field.generated]


def _stored(row: dict[str, Any], fields: list[Any]) -> list[Any]:
    return [
        field.get_db_prep_save(field.to_python(row[field.attname]), connection) for field in fields
    ]


def _told(value: Any) -> str | float:
    """Values that JSON has no form for, whole: times keep their microseconds."""
    if isinstance(value, datetime | date | time):
        return value.isoformat()
    if isinstance(value, timedelta):
        return value.total_seconds()
    if isinstance(value, Decimal | UUID):
        return str(value)
    raise TypeError(f"a value of an unknown kind: {value!r}")


_COMPACT: dict[str, Any] = {"ensure_ascii": False, "separators": (",", ":"), "default": _told}
