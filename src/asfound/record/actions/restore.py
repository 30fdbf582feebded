"""Undoing a withdrawal: what was withdrawn counts again, with a line of its own in the log."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.dissent import check_can_withdraw_dissent
from asfound.record.actions.lock import check_can_lock
from asfound.record.actions.money import MONEY, check_can_restore_money
from asfound.record.actions.need import check_own_name
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import (
    AssemblyTemplate,
    Car,
    Decision,
    FilmReading,
    Observation,
    Photo,
    Place,
)
from asfound.record.reads.errands import open_errands


@transaction.atomic
def restore_film_reading(*, reading: FilmReading, by: Any) -> None:
    """Let a withdrawn reading count again.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is not withdrawn, or the car was given other panels since.
    """
    check_may_write(by)
    take_turn(reading.car)
    panels = reading.car.panels
    if panels.exists() and not panels.filter(panel=reading.panel).exists():
        raise InputError(field="panel", got=reading.panel, allowed="one of the car's panels")
    _restore(FilmReading, reading, "restore film reading", by)


@transaction.atomic
def restore_observation(*, observation: Observation, by: Any) -> None:
    """Let a withdrawn observation count again.

    Raises
    ------
    InputError
        If it is not withdrawn, its part is out on another errand, another need has its name, or
        the same line of a document was entered again.
    PermissionDenied
        If it is of the car's money, and that is closed to the person.
    """
    check_may_write(by)
    take_turn(observation.car)
    if observation.table == "dissents":
        check_can_withdraw_dissent(dissent=observation, by=by)
    if observation.table == "needs":
        check_own_name(observation.car, observation.cells["need"])
    if observation.table == "errands" and not observation.cells.get("back_on"):
        _check_at_home(observation)
    if observation.table in MONEY:
        check_can_restore_money(observation, by)
    _restore(Observation, observation, f"restore {observation.table} reading", by)


@transaction.atomic
def restore_photo(*, photo: Photo, by: Any) -> None:
    """Let a withdrawn photograph be shown again, sorted as it was.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is not withdrawn, or was sent in once more since.
    """
    check_may_write(by)
    take_turn(photo.car)
    if photo.car.photos.current().filter(sha256=photo.sha256).exists():
        raise InputError(
            field="photograph", got=photo.file, allowed="one that was not sent in again since"
        )
    _restore(Photo, photo, "restore photograph", by)


@transaction.atomic
def restore_lock(*, decision: Decision, by: Any) -> Decision:
    """Decision like one that was withdrawn, with its reason; the withdrawn one stays so.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is not withdrawn, another counts now, or its option can no longer be locked.
    """
    check_may_write(by)
    car = decision.car
    take_turn(car)
    if not Decision.objects.filter(pk=decision.pk, withdrawn_at__isnull=False).exists():
        raise InputError(field="decision", got=str(decision), allowed="one that was withdrawn")
    if car.decisions.current().filter(subject=decision.subject).exists():
        raise InputError(
            field="subject",
            got=decision.subject,
            allowed="without a lock",
            remedy="Somebody locked it since; release that lock first.",
        )
    check_can_lock(car=car, subject=decision.subject, option=decision.option, by=by)
    again = Decision.objects.create(
        car=car, subject=decision.subject, option=decision.option, reason=decision.reason, by=by
    )
    told = {name: getattr(again, name) for name in ("subject", "option", "reason")}
    before = {"withdrawn": decision.withdrawn_reason}
    write_entry(action="restore lock", by=by, car=car, before=before, after=told)
    return again


@transaction.atomic
def restore_place(*, place: Place, by: Any) -> None:
    """Let a withdrawn place be used again, where it lay.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is not withdrawn, or what it lay in is withdrawn since.
    """
    check_may_write(by)
    held = Place.objects.filter(pk=place.pk, withdrawn_at__isnull=False).first()
    if held is None:
        raise InputError(field="place", got=place.name, allowed="one that was withdrawn")
    if held.within is not None and held.within.withdrawn_at is not None:
        raise InputError(
            field="within",
            got=held.within.name,
            allowed="a place that is in use",
            remedy="It was withdrawn since; enter the place anew where it stands now.",
        )
    before = {"place": held.name, "withdrawn": held.withdrawn_reason}
    held.withdrawn_at, held.withdrawn_reason = None, ""
    held.save(update_fields=["withdrawn_at", "withdrawn_reason"])
    write_entry(action="restore place", by=by, before=before, after={"place": held.name})


@transaction.atomic
def restore_template(*, template: AssemblyTemplate, by: Any) -> None:
    """Let a withdrawn template be offered again.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is not withdrawn.
    """
    check_may_write(by)
    held = AssemblyTemplate.objects.filter(pk=template.pk, withdrawn_at__isnull=False).first()
    if held is None:
        raise InputError(field="template", got=template.name, allowed="one that was withdrawn")
    before = {"template": held.name, "withdrawn": held.withdrawn_reason}
    held.withdrawn_at, held.withdrawn_reason = None, ""
    held.save(update_fields=["withdrawn_at", "withdrawn_reason"])
    write_entry(action="restore template", by=by, before=before, after={"template": held.name})


def _restore(model: Any, observed: Any, action: str, by: Any) -> None:
    """Take the fate of an observation back; why it was withdrawn stays in the log."""
    held = model.objects.filter(pk=observed.pk, withdrawn_at__isnull=False).first()
    if held is None or _car_was_loaded_since(observed.car, held):
        raise InputError(
            field="reading",
            got=str(observed),
            allowed="one that was withdrawn, in the tables that the car has now",
        )
    before = {"reading": held.pk, "withdrawn": held.reason}
    held.withdrawn_at = held.withdrawn_by = None
    held.reason = ""
    held.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(action=action, by=by, car=observed.car, before=before, after={"reading": held.pk})


def _check_at_home(errand: Observation) -> None:
    """A part is out on one errand at a time."""
    parts = errand.car.parts.filter(part=errand.subject)
    if open_errands(parts):
        raise InputError(
            field="errand", got=str(errand), allowed="of a part that is not out again since"
        )


def _car_was_loaded_since(car: Car, observed: Any) -> bool:
    """Whether the observation belongs to tables that were replaced as a whole."""
    again = car.entries.filter(action="load car again").order_by("-pk").first()
    return again is not None and observed.withdrawn_at <= again.at
