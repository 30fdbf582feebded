"""Dissent from a lock: said by another person, withdrawn with a reason, never erased."""

from __future__ import annotations

from typing import Any

from django.contrib.auth import get_user_model
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.observation import end_observation, write_observations
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write, check_reason, is_owner_of
from asfound.record.models import Car, Decision, Observation
from asfound.record.models.release import OwnersRoom

DISSENTS = "dissents"


def check_can_dissent(*, car: Car, subject: str, by: Any) -> Decision:
    """The lock that the person can dissent from; raise the reason why there is none.

    Raises
    ------
    PermissionDenied
        If the person is neither of the workshop nor an owner to whom the decisions are released.
    InputError
        If the piece is not locked, they locked it, or their dissent stands already.
    """
    _check_is_heard(car, by)
    lock = car.decisions.current().select_related("by").filter(subject=subject).first()
    if lock is None:
        raise InputError(field="subject", got=subject, allowed="one that is locked")
    if lock.by == by and not lock.told:
        raise InputError(
            field="by",
            got=by.get_username(),
            allowed="another than who locked it",
            remedy="Release the lock, or lock another option, with the reason.",
        )
    if _of(car, lock).filter(cells__by=_name(by)).exists():
        raise InputError(
            field="by",
            got=_name(by),
            allowed="one whose dissent does not stand already",
            remedy="Withdraw yours first.",
        )
    return lock


def can_dissent(*, car: Car, subject: str, by: Any) -> bool:
    """Whether the person can dissent from the lock of a piece."""
    try:
        check_can_dissent(car=car, subject=subject, by=by)
    except (InputError, PermissionDenied):
        return False
    return True


@transaction.atomic
def record_dissent(*, car: Car, subject: str, words: str, by: Any) -> Observation:
    """Dissent from the lock that stands.

    Raises
    ------
    PermissionDenied, InputError
        As :func:`check_can_dissent`, and if there are no words.
    """
    take_turn(car)
    lock = check_can_dissent(car=car, subject=subject, by=by)
    if not words.strip():
        raise InputError(field="words", got=words, allowed="given, in a few words")
    row = {
        "subject": subject,
        "option": lock.option,
        "words": words.strip(),
        "by": _name(by),
        "said_on": timezone.localdate().isoformat(),
    }
    (made,) = write_observations(car=car, table=DISSENTS, rows=[row], by=by)
    return made


def check_can_withdraw_dissent(*, dissent: Observation, by: Any) -> None:
    """Raise the reason why the person cannot withdraw a dissent.

    Raises
    ------
    PermissionDenied
        If another person said it. One of a person without an account here is withdrawn by
        whoever may write.
    """
    if dissent.cells["by"] == _name(by):
        return
    if get_user_model().objects.filter(username=dissent.cells["by"]).exists():
        raise PermissionDenied("Only the person who dissents withdraws it.")
    check_may_write(by)


@transaction.atomic
def withdraw_dissent(*, dissent: Observation, reason: str, by: Any) -> None:
    """Let a dissent stand no longer; it is kept with the reason.

    Raises
    ------
    PermissionDenied
        As :func:`check_can_withdraw_dissent`.
    InputError
        If it is withdrawn already, or there is no reason.
    """
    check_can_withdraw_dissent(dissent=dissent, by=by)
    check_reason(reason)
    end_observation(observation=dissent, reason=reason, by=by)


def _check_is_heard(car: Car, by: Any) -> None:
    if by is None:
        raise PermissionDenied("A dissent has a name: sign in.")
    room = car.releases.current().filter(room=OwnersRoom.DECISIONS)
    if not (is_owner_of(car, by) and room.exists()):
        check_may_write(by)


def _of(car: Car, lock: Decision) -> Any:
    current = car.observations.current().filter(table=DISSENTS, subject=lock.subject)
    return current.filter(cells__option=lock.option)


def _name(by: Any) -> str:
    return "" if by is None else by.get_username()
