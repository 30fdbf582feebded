"""Readings of a film gauge: added, corrected by a new reading, withdrawn; never overwritten."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.convert.storing import store_rows
from asfound.record.folder import Row
from asfound.record.log import write_entry
from asfound.record.models import Car, FilmReading

_HEAD = ("panel", "spot", "x_mm", "y_mm", "thickness_um", "gauge", "taken_at", "by")


@dataclass(frozen=True, slots=True, kw_only=True)
class Imported:
    """What an import wrote."""

    readings_n: int
    spots_n: int
    panels_n: int


@transaction.atomic
def import_film_rows(*, car: Car, rows: Iterable[Mapping[str, str]], by: Any) -> Imported:
    """Write checked rows of a film table after those that are there, all or none.

    Parameters
    ----------
    car : Car
    rows : iterable of mapping
        Cells by column, as ``film.csv`` holds them.
    by : user or None

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If a number is missing or negative, or a panel is not one of the car's.
    """
    check_may_write(by)
    take_turn(car)
    cells = [dict(row) for row in rows]
    panels = set(car.panels.values_list("panel", flat=True))
    for number, row in enumerate(cells, start=1):
        _check(row, panels, number)
    last = car.film_readings.aggregate(last=Max("position"))["last"]
    first = 0 if last is None else last + 1
    store_rows(car, "film", (Row(row, n) for n, row in enumerate(cells, 2)), by=by, first=first)
    _widen_head(car, cells)
    write_entry(action="import film readings", by=by, car=car, after={"film": cells})
    spots = {(row["panel"], row.get("spot", "")) for row in cells}
    return Imported(
        readings_n=len(cells), spots_n=len(spots), panels_n=len({panel for panel, _ in spots})
    )


@transaction.atomic
def correct_film_reading(
    *,
    reading: FilmReading,
    thickness_um: float,
    reason: str,
    by: Any,
    x_mm: float | None = None,
    y_mm: float | None = None,
) -> FilmReading:
    """Reading that supersedes another in its place; the old one is kept with the reason.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the reading counts no longer, the reason is empty, or a number is not lawful.
    """
    check_may_write(by)
    take_turn(reading.car)
    _check_counts(reading, reason)
    where = {
        "x_mm": reading.x_mm if x_mm is None else float(x_mm),
        "y_mm": reading.y_mm if y_mm is None else float(y_mm),
    }
    _check_numbers({"thickness_um": float(thickness_um), **where})
    kept = {name: getattr(reading, name) for name in ("panel", "spot", "gauge", "taken_at", "by")}
    new = FilmReading.objects.create(
        car=reading.car,
        position=reading.position,
        extra=reading.extra,
        entered_by=by,
        thickness_um=float(thickness_um),
        **kept,
        **where,
    )
    reading.superseded_by, reading.reason = new, reason.strip()
    reading.save(update_fields=["superseded_by", "reason"])
    write_entry(
        action="correct film reading",
        by=by,
        car=reading.car,
        before=_told(reading),
        after={**_told(new), "reason": reading.reason},
    )
    return new


@transaction.atomic
def withdraw_film_reading(*, reading: FilmReading, reason: str, by: Any) -> None:
    """Let a reading count no longer; it is kept with the reason.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it counts no longer already, or the reason is empty.
    """
    check_may_write(by)
    take_turn(reading.car)
    _check_counts(reading, reason)
    reading.withdrawn_at, reading.withdrawn_by = timezone.now(), by
    reading.reason = reason.strip()
    reading.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(
        action="withdraw film reading",
        by=by,
        car=reading.car,
        before=_told(reading),
        after={"reason": reading.reason},
    )


def _told(reading: FilmReading) -> dict[str, Any]:
    return {"reading": reading.pk} | {name: getattr(reading, name) for name in _HEAD}


def _check_counts(reading: FilmReading, reason: str) -> None:
    if not FilmReading.objects.current().filter(pk=reading.pk).exists():
        raise InputError(
            field="reading", got=str(reading), allowed="one that was not corrected or withdrawn"
        )
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")


def _check(row: Mapping[str, str], panels: set[str], number: int) -> None:
    if panels and row.get("panel", "") not in panels:
        raise InputError(
            field=f"panel of reading {number}",
            got=row.get("panel", ""),
            allowed="one of the car's panels",
        )
    numbers = {}
    for name in ("x_mm", "y_mm", "thickness_um"):
        try:
            numbers[name] = float(row.get(name, ""))
        except ValueError:
            raise InputError(field=name, got=row.get(name, ""), allowed="a number") from None
    _check_numbers(numbers)


def _check_numbers(numbers: Mapping[str, float]) -> None:
    for name, value in numbers.items():
        if not math.isfinite(value):
            raise InputError(field=name, got=value, allowed="a finite number")
    if numbers["thickness_um"] < 0:
        raise InputError(
            field="thickness_um",
            got=numbers["thickness_um"],
            allowed="zero or more",
            remedy="Check the gauge's zero.",
        )


def _widen_head(car: Car, rows: list[dict[str, str]]) -> None:
    """Columns that the table did not have yet, so that a dump gives them back."""
    head = car.heads.get("film") or list(_HEAD[:5])
    met = dict.fromkeys(column for row in rows for column, cell in row.items() if cell)
    wider = head + [column for column in met if column not in head]
    if rows and wider != car.heads.get("film"):
        car.heads = {**car.heads, "film": wider}
        car.save(update_fields=["heads"])
