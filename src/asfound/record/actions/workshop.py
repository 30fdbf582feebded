"""The workshop's own tables of people, bays and closed days, each written as a whole."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.small_sheet import check_unchanged, filled
from asfound.record.actions.who import check_is_head, check_may_write
from asfound.record.convert.workshop import OF_WORKSHOP
from asfound.record.log import write_entry
from asfound.record.models import Workshop
from asfound.record.reads.workshop import workshop

WHY_HEAD = "The head of the workshop says who works when, and which bays there are."
Rows = Sequence[Mapping[str, str]]


@transaction.atomic
def set_workshop(*, table: str, rows: Rows, by: Any, seen: Rows | None = None) -> None:
    """Write the whole of one of the workshop's tables; the log keeps what it was.

    Parameters
    ----------
    table : {"people", "bays", "closed_days"}
    rows : sequence of mapping
        Cells by column, checked by the exchange against the table of that name.
    by : user or None
    seen : sequence of mapping, optional
        Rows that the person had before them.

    Raises
    ------
    PermissionDenied
        If the person is not the head.
    InputError
        If the workshop has no such table, or it changed meanwhile.
    """
    check_is_head(by, WHY_HEAD)
    _settle(table, rows, by=by, seen=seen)


@transaction.atomic
def correct_workshop(*, table: str, rows: Rows, by: Any, seen: Rows) -> None:
    """Write down in one of the tables what came between, by whoever works there.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    _settle(table, rows, by=by, seen=seen)


def _settle(table: str, rows: Rows, *, by: Any, seen: Rows | None) -> None:
    if table not in OF_WORKSHOP:
        raise InputError(field="table", got=table, allowed=", ".join(OF_WORKSHOP))
    now = workshop()
    before = getattr(now, table)
    if seen is not None:
        check_unchanged(table, seen=seen, now=before)
    told = {name: getattr(now, name) for name in OF_WORKSHOP} | {table: filled(rows)}
    Workshop.objects.create(**told, by=by)
    write_entry(action=f"set the workshop's {table}", by=by, before=before, after=told[table])
