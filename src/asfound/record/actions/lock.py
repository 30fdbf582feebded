"""A person's decision on a subject, and its withdrawal."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.convert.begun import begun_pieces
from asfound.record.convert.stored import folder_of
from asfound.record.log import write_entry
from asfound.record.models import Car, Decision

_REPLACED = "another decision took its place"


def check_can_lock(*, car: Car, subject: str, option: str, by: Any) -> None:
    """Raise the reason why the option cannot be locked.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the subject has no such option, the option is not safe, its work is finished, or it
        was begun under another lock.
    """
    check_may_write(by)
    found = car.options.filter(subject=subject, option=option).first()
    if found is None:
        raise InputError(
            field="option", got=f"{subject}: {option}", allowed="one of the subject's options"
        )
    if found.safe is False:
        raise InputError(
            field="option",
            got=f"{subject}: {option}",
            allowed="safe",
            remedy="An option marked as not safe is never chosen.",
        )
    _check_not_begun(car, subject)


@transaction.atomic
def lock_option(*, car: Car, subject: str, option: str, reason: str, by: Any) -> Decision:
    """Decision that counts from now on; one that counted before is withdrawn and kept.

    Raises
    ------
    PermissionDenied, InputError
        As :func:`check_can_lock`, and if there is no reason.
    """
    check_may_write(by)
    take_turn(car)
    check_can_lock(car=car, subject=subject, option=option, by=by)
    _check_reason(reason)
    before = car.decisions.current().filter(subject=subject).first()
    if before is not None:
        _withdraw(before, reason=_REPLACED, by=by)
    decision = Decision.objects.create(
        car=car, subject=subject, option=option, reason=reason.strip(), by=by
    )
    write_entry(action="lock option", by=by, car=car, before=_told(before), after=_told(decision))
    return decision


@transaction.atomic
def release_lock(*, car: Car, subject: str, reason: str, by: Any) -> Decision:
    """Decision that counts no longer: the subject is given back to the choice.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the subject is not locked, its work has begun, or there is no reason.
    """
    check_may_write(by)
    _check_reason(reason)
    take_turn(car)
    _check_not_begun(car, subject)
    decision = car.decisions.current().filter(subject=subject).first()
    if decision is None:
        raise InputError(field="subject", got=subject, allowed="one that is locked")
    _withdraw(decision, reason=reason.strip(), by=by)
    write_entry(
        action="release lock",
        by=by,
        car=car,
        before=_told(decision),
        after={"subject": subject, "reason": reason.strip()},
    )
    return decision


def _check_not_begun(car: Car, subject: str) -> None:
    """What was started is fixed; one that was begun undecided may still be locked."""
    begun = begun_pieces(folder_of(car)).get(subject)
    if begun is None:
        return
    if not begun.is_finished and not car.decisions.current().filter(subject=subject).exists():
        return
    slip = (
        "take the row out of the table As left"
        if begun.is_finished
        else "withdraw the stretch of work, with the reason"
    )
    raise InputError(
        field="subject",
        got=f"{subject}: {begun.words}",
        allowed="one on which nothing has begun",
        remedy=f"Send the owner a change order. If it is a slip, {slip}.",
    )


def _check_reason(reason: str) -> None:
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")


def _withdraw(decision: Decision, *, reason: str, by: Any) -> None:
    decision.withdrawn_at, decision.withdrawn_by = timezone.now(), by
    decision.withdrawn_reason = reason
    decision.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason"])


def _told(decision: Decision | None) -> dict[str, str] | None:
    if decision is None:
        return None
    return {name: getattr(decision, name) for name in ("subject", "option", "reason")}
