"""A car's level for the workshop's own base of film builds: only with the owner's consent."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import Estimate, InputError
from asfound.measure.base_of_films import CarBuild
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car, FilmBuild

_REPLACED = "the car's level was given anew"


@transaction.atomic
def contribute_film_build(
    *,
    car: Car,
    kind: str,
    year: float,
    level_um: Estimate,
    consent_by: str,
    consent_on: date,
    by: Any,
) -> FilmBuild:
    """Car of the base; what the car gave before is withdrawn and kept.

    Parameters
    ----------
    car : Car
    kind : str
        Kind of car or finish by which the workshop groups.
    year : float
        Year built.
    level_um : Estimate
        The car's level of undisturbed film, µm.
    consent_by : str
        Name of the owner who agreed.
    consent_on : date
        Day on which they did.
    by : user or None

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If consent is not stated, its day is still to come, or a number is not lawful.
    """
    check_may_write(by)
    _check_consent(consent_by, consent_on)
    build = _build(car, kind=kind.strip(), year=year, level_um=level_um)
    take_turn(car)
    before = _counting(car)
    if before is not None:
        _withdraw(before, reason=_REPLACED, by=by)
    row: FilmBuild = FilmBuild.objects.create(
        car=car,
        kind=build.kind,
        year=build.year,
        level_um=build.level_um,
        u_log=build.u_log,
        consent_by=consent_by.strip(),
        consent_on=consent_on,
        entered_by=by,
    )
    write_entry(
        action="give film level to base",
        by=by,
        car=car,
        before=None if before is None else _told(before),
        after=_told(row),
    )
    return row


def _build(car: Car, *, kind: str, year: float, level_um: Estimate) -> CarBuild:
    """What the base is given of the car, checked."""
    if not kind:
        raise InputError(field="kind", got=kind, allowed="a kind of car, in a few words")
    u_log = level_um.u / level_um.value
    return CarBuild(car=car.slug, kind=kind, year=year, level_um=level_um.value, u_log=u_log)


@transaction.atomic
def withdraw_film_build(*, car: Car, reason: str, by: Any) -> None:
    """Take the car out of the base; what it gave is kept with the reason, and enters nothing.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the car is not in the base, or there is no reason.
    """
    check_may_write(by)
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")
    take_turn(car)
    row = _counting(car)
    if row is None:
        raise InputError(field="car", got=str(car), allowed="one that is in the base")
    _withdraw(row, reason=reason.strip(), by=by)
    write_entry(
        action="withdraw film level",
        by=by,
        car=car,
        before=_told(row),
        after={"reason": row.reason},
    )


def _check_consent(consent_by: str, consent_on: date) -> None:
    if not consent_by.strip():
        raise InputError(
            field="consent_by",
            got=consent_by,
            allowed="the owner who agreed, by name",
            remedy="Without stated consent the car's level stays with the car.",
        )
    if consent_on > timezone.localdate():
        raise InputError(
            field="consent_on", got=consent_on.isoformat(), allowed="today or a day before"
        )


def _counting(car: Car) -> FilmBuild | None:
    found: FilmBuild | None = FilmBuild.objects.current().filter(car=car).first()
    return found


def _withdraw(row: FilmBuild, *, reason: str, by: Any) -> None:
    row.withdrawn_at, row.withdrawn_by, row.reason = timezone.now(), by, reason
    row.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])


def _told(row: FilmBuild) -> dict[str, Any]:
    numbers = {name: getattr(row, name) for name in ("kind", "year", "level_um", "u_log")}
    return {
        "build": row.pk,
        **numbers,
        "consent_by": row.consent_by,
        "consent_on": row.consent_on.isoformat(),
    }
