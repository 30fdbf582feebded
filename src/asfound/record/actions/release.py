"""Releasing rooms of a car to its owner, and withdrawing that."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.people import WHY_HEAD
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_is_head, check_reason
from asfound.record.log import write_entry
from asfound.record.models import Car, Release
from asfound.record.models.release import OwnersRoom


@transaction.atomic
def release_room(*, car: Car, room: str, by: Any) -> Release:
    """Release of a room to the car's owner; the one that counts, if it was released already.

    Raises
    ------
    PermissionDenied
        If it is not the head who does it.
    InputError
        If no such room can be released.
    """
    check_is_head(by, WHY_HEAD)
    if room not in OwnersRoom.values:
        raise InputError(field="room", got=room, allowed=", ".join(OwnersRoom.values))
    take_turn(car)
    found = car.releases.current().filter(room=room).first()
    if found is not None:
        return found
    made = Release.objects.create(car=car, room=room, released_by=by)
    write_entry(action="release room", by=by, car=car, after={"room": room})
    return made


@transaction.atomic
def withdraw_release(*, car: Car, room: str, reason: str, by: Any) -> None:
    """Close a room to the car's owner again.

    Raises
    ------
    PermissionDenied
        If it is not the head who does it.
    InputError
        If there is no reason, or the room is not released.
    """
    check_is_head(by, WHY_HEAD)
    check_reason(reason)
    take_turn(car)
    found = car.releases.current().filter(room=room).first()
    if found is None:
        raise InputError(field="room", got=room, allowed="one that is released")
    found.withdrawn_at, found.withdrawn_by = timezone.now(), by
    found.withdrawn_reason = reason.strip()
    found.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason"])
    after = {"room": room, "reason": found.withdrawn_reason}
    write_entry(action="withdraw release", by=by, car=car, after=after)
