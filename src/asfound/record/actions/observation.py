"""Observations of any instrument: added, corrected by a new one, withdrawn; never overwritten."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Arrival, Car, Observation
from asfound.record.models.observation import OBSERVED, subject_of
from asfound.record.tables import TABLES

Cells = Mapping[str, str]
_NAMED = {
    "findings": ("findings", "finding"),
    "worked": ("time worked", "time worked"),
    "materials_used": ("materials used", "material used"),
    "results": ("results", "result"),
    "purchases": ("purchases", "purchase"),
    "payments": ("payments", "payment"),
    "dissents": ("dissent", "dissent"),
    "holds": ("holds", "hold"),
}
"""How the log calls several rows of a table, and one; rows of an instrument are readings."""


@transaction.atomic
def add_observations(
    *, car: Car, table: str, rows: Iterable[Cells], by: Any, key: str = ""
) -> tuple[Observation, ...]:
    """Observations written after those that are there, all or none.

    Parameters
    ----------
    car : Car
    table : str
        One of the observed tables.
    rows : iterable of mapping
        Cells by column, checked by the exchange against that table.
    by : user or None
    key : str
        Made by the sender; what comes again under one key is not written again, and gives ().

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the table is not an observed one.
    """
    check_may_write(by)
    if table not in OBSERVED:
        raise InputError(field="table", got=table, allowed=", ".join(OBSERVED))
    take_turn(car)
    return write_observations(car=car, table=table, rows=rows, by=by, key=key)


def write_observations(
    *, car: Car, table: str, rows: Iterable[Cells], by: Any, key: str = ""
) -> tuple[Observation, ...]:
    """As :func:`add_observations`; whether the person may is settled, and the turn taken."""
    if key and not Arrival.objects.get_or_create(car=car, key=key)[1]:
        return ()
    cells = [dict(row) for row in rows]
    last = car.observations.filter(table=table).aggregate(last=Max("position"))["last"]
    made = Observation.objects.bulk_create(
        Observation(
            car=car,
            table=table,
            subject=subject_of(row),
            position=position,
            cells=row,
            entered_by=by,
        )
        for position, row in enumerate(cells, start=0 if last is None else last + 1)
    )
    widen_head(car, table, cells)
    write_entry(action=f"add {_many(table)}", by=by, car=car, after={table: cells})
    return tuple(made)


@transaction.atomic
def correct_observation(
    *, observation: Observation, cells: Cells, reason: str, by: Any
) -> Observation:
    """Observation that supersedes another in its place; the old one is kept with the reason.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it counts no longer, or the reason is empty.
    """
    check_may_write(by)
    return supersede(observation=observation, cells=cells, reason=reason, by=by)


@transaction.atomic
def supersede(*, observation: Observation, cells: Cells, reason: str, by: Any) -> Observation:
    """As :func:`correct_observation`, where the caller has seen to it who may.

    Raises
    ------
    InputError
        As there.
    """
    car = _take_turn_to_end(observation, reason)
    row = {**observation.cells, **cells}
    new = Observation.objects.create(
        car=car,
        table=observation.table,
        subject=subject_of(row),
        position=observation.position,
        cells=row,
        entered_by=by,
    )
    observation.superseded_by, observation.reason = new, reason.strip()
    observation.save(update_fields=["superseded_by", "reason"])
    widen_head(car, observation.table, [row])
    write_entry(
        action=f"correct {_one(observation.table)}",
        by=by,
        car=car,
        before=_told(observation),
        after={**_told(new), "why": observation.reason},
    )
    return new


@transaction.atomic
def withdraw_observation(*, observation: Observation, reason: str, by: Any) -> None:
    """Let an observation count no longer; it is kept with the reason.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it counts no longer already, or the reason is empty.
    """
    check_may_write(by)
    end_observation(observation=observation, reason=reason, by=by)


def end_observation(*, observation: Observation, reason: str, by: Any) -> None:
    """As :func:`withdraw_observation`; whether the person may is settled."""
    car = _take_turn_to_end(observation, reason)
    observation.withdrawn_at, observation.withdrawn_by = timezone.now(), by
    observation.reason = reason.strip()
    observation.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(
        action=f"withdraw {_one(observation.table)}",
        by=by,
        car=car,
        before=_told(observation),
        after={"why": observation.reason},
    )


def widen_head(car: Car, table: str, rows: Iterable[Cells]) -> None:
    """Columns that the table did not have yet, so that a dump gives them back."""
    head = car.heads.get(table) or [c.name for c in TABLES[table].columns if c.required]
    met = dict.fromkeys(column for row in rows for column, cell in row.items() if cell)
    wider = head + [column for column in met if column not in head]
    if wider != car.heads.get(table):
        car.heads = {**car.heads, table: wider}
        car.save(update_fields=["heads"])


def _many(table: str) -> str:
    return _NAMED[table][0] if table in _NAMED else f"{table} readings"


def _one(table: str) -> str:
    return _NAMED[table][1] if table in _NAMED else f"{table} reading"


def _take_turn_to_end(observation: Observation, reason: str) -> Car:
    take_turn(observation.car)
    if not Observation.objects.current().filter(pk=observation.pk).exists():
        raise InputError(
            field="reading", got=str(observation), allowed="one that was not corrected or withdrawn"
        )
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")
    return observation.car


def _told(observation: Observation) -> dict[str, Any]:
    return {"reading": observation.pk, **observation.cells}
