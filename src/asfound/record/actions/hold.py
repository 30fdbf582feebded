"""Holding work, and letting it go: by whom the hold names, and nobody else."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.observation import add_observations, supersede
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_is_head, check_may_write, check_reason, is_owner_of
from asfound.record.convert.holds import (
    HEAD,
    HOLDS,
    OWNER,
    PHOTOGRAPH,
    hold_of,
    hold_words,
)
from asfound.record.convert.worked import written
from asfound.record.models import Car, Observation


@transaction.atomic
def set_hold(*, car: Car, cells: Mapping[str, str], by: Any, key: str = "") -> Observation | None:
    """Hold a task, or every open task of a piece, from now on.

    Parameters
    ----------
    car : Car
    cells : mapping
        ``subject``, ``kind``, ``why``, ``expected``, and ``task`` where only one is held.
    by : user or None
    key : str
        Made by the sender; what comes again under one key is not written again, and gives None.
    """
    name = "" if by is None else by.get_username()
    row = {**cells, "set_at": written(timezone.now()), "by": name}
    filled = {column: cell for column, cell in row.items() if cell}
    made = add_observations(car=car, table=HOLDS, rows=[filled], by=by, key=key)
    return made[0] if made else None


def check_can_release(*, hold: Observation, by: Any) -> None:
    """Raise the reason why the person cannot let the work go on.

    Raises
    ------
    PermissionDenied
        If it is not whom the hold names.
    InputError
        If it ended already, or its photograph is not there.
    """
    one = hold_of(hold.cells)
    if not hold.counts or not one.is_open:
        raise InputError(field="hold", got="one that has ended", allowed="one that holds still")
    if one.kind == OWNER:
        if by is not None and not is_owner_of(hold.car, by):
            raise PermissionDenied("The owner releases this, from their own account.")
        return
    if one.kind == HEAD:
        check_is_head(by, "The head of the workshop releases this.")
    check_may_write(by)
    if one.kind == PHOTOGRAPH and not _is_photographed(hold, one.set_at):
        raise InputError(
            field="photograph",
            got="none since the hold was set",
            allowed="one of the piece",
            remedy="Take it, and it is released.",
        )


def check_can_change(*, hold: Observation, by: Any) -> None:
    """Raise the reason why the person can neither correct nor withdraw a hold.

    What waits for the owner or the head would otherwise be let go by anybody.

    Raises
    ------
    PermissionDenied
        If it waits for the owner or the head, and the person is not the head.
    """
    if hold_of(hold.cells).kind in (OWNER, HEAD):
        check_is_head(by, "The head of the workshop corrects or withdraws this hold.")
    check_may_write(by)


def can_change(*, hold: Observation, by: Any) -> bool:
    """Whether the person can correct or withdraw a hold."""
    try:
        check_can_change(hold=hold, by=by)
    except PermissionDenied:
        return False
    return True


def can_release(*, hold: Observation, by: Any) -> bool:
    """Whether the person can let the work go on."""
    try:
        check_can_release(hold=hold, by=by)
    except (InputError, PermissionDenied):
        return False
    return True


@transaction.atomic
def release_hold(*, hold: Observation, note: str, by: Any) -> Observation:
    """Let the work go on; who did it and when is kept with the hold.

    Raises
    ------
    PermissionDenied, InputError
        As :func:`check_can_release`, and if a finding reopens a decision by it and no reason is
        given why the decision stands.
    """
    take_turn(hold.car)
    hold = Observation.objects.get(pk=hold.pk)
    check_can_release(hold=hold, by=by)
    if hold_of(hold.cells).reopens:
        check_reason(note)
    return end_hold(hold, note=note, by=by, at=timezone.now())


def end_hold(hold: Observation, *, note: str, by: Any, at: datetime) -> Observation:
    """Hold that has ended; whether the person may is settled, and the turn taken."""
    name = "the workshop" if by is None else by.get_username()
    cells = {"released_at": written(at), "released_by": name, "note": note.strip()}
    return supersede(observation=hold, cells=cells, reason="released", by=by)


def _is_photographed(hold: Observation, since: datetime | None) -> bool:
    found = hold.car.photos.current().filter(subject=hold.subject)
    return bool((found.filter(entered_at__gte=since) if since else found).exists())


def check_not_held(*, car: Car, task: str, subject: str) -> None:
    """Raise what holds a task that somebody wants to begin.

    Raises
    ------
    InputError
        With the holds in words.
    """
    held = [
        hold.cells
        for hold in car.observations.current().filter(table=HOLDS)
        if hold_of(hold.cells).holds(task=task, subject=subject)
    ]
    if held:
        raise InputError(
            field="task",
            got=f"{task}, which is held: {'; '.join(hold_words(cells) for cells in held)}",
            allowed="one that nothing holds",
            remedy="It can be begun when that is released.",
        )
