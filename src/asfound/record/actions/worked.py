"""Work at a task: begun, paused, done; every stretch a row that stays."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.hold import check_not_held
from asfound.record.actions.lock import lock_option
from asfound.record.actions.observation import add_observations, correct_observation
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.convert.worked import moment, written
from asfound.record.models import Car, Observation
from asfound.record.reads.worked import is_done, open_stretches

WORKED = "worked"


@transaction.atomic
def start_work(
    *,
    car: Car,
    cells: Mapping[str, str],
    by: Any,
    key: str = "",
    at: datetime | None = None,
    holds: str = "",
) -> Observation | None:
    """Stretch that begins now; other work of the person, on any car, is paused.

    Parameters
    ----------
    car : Car
    cells : mapping
        ``task``, ``subject``, ``person``, and what was read or left out.
    by : user or None
    key : str
        Made by the sender; what comes again under one key is not written again, and gives None.
    at : datetime, optional
        Now, unless given.
    holds : str
        Option to which the piece is locked with its first stretch where nobody has locked it;
        empty to leave it open.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the task is done, or held.
    """
    check_may_write(by)
    take_turn(car)
    now = at or timezone.now()
    task, person = cells["task"], cells["person"]
    if is_done(car, task):
        raise InputError(
            field="task",
            got=f"{task}, which is done",
            allowed="one that is not done",
            remedy="Correct the stretch that says so, with the reason.",
        )
    check_not_held(car=car, task=task, subject=cells.get("subject", ""))
    running = open_stretches(person=person)
    if any(one.car_id == car.pk and one.cells["task"] == task for one in running):
        return None
    for one in running:
        stop_work(stretch=one, done=False, by=by, at=now, reason=f"paused for {task}")
    _hold(car, cells, holds, by)
    row = {**cells, "from_at": written(now), "by": _name(by)}
    made = add_observations(car=car, table=WORKED, rows=[_filled(row)], by=by, key=key)
    return made[0] if made else None


@transaction.atomic
def stop_work(
    *,
    stretch: Observation,
    done: bool,
    by: Any,
    at: datetime | None = None,
    reason: str = "",
    cells: Mapping[str, str] | None = None,
) -> Observation:
    """Stretch that ends now, with the task paused or done.

    Raises
    ------
    InputError
        If it has ended already.
    """
    if stretch.cells.get("to_at"):
        raise InputError(field="work", got="a stretch that has ended", allowed="one that goes on")
    begun, now = moment(stretch.cells["from_at"]), at or timezone.now()
    ended = max(now, begun) if begun else now
    told = {**(cells or {}), "to_at": written(ended), "done": "yes" if done else ""}
    why = reason or ("done" if done else "paused")
    return correct_observation(observation=stretch, cells=told, reason=why, by=by)


@transaction.atomic
def finish_task(
    *, car: Car, cells: Mapping[str, str], by: Any, at: datetime | None = None, holds: str = ""
) -> None:
    """The task is done: every stretch that goes on at it ends; without one a row says it alone.

    Parameters
    ----------
    car : Car
    cells : mapping
        ``task``, ``subject``, ``person``, and ``no_photo`` where there is no photograph after.
    by : user or None
    at : datetime, optional
    holds : str
        As for :func:`start_work`.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is done already.
    """
    check_may_write(by)
    take_turn(car)
    now, task = at or timezone.now(), cells["task"]
    if is_done(car, task):
        raise InputError(field="task", got=f"{task}, which is done", allowed="one that is not done")
    running = open_stretches(car=car, task=task)
    more = {"no_photo": cells["no_photo"]} if cells.get("no_photo") else {}
    for one in running:
        stop_work(stretch=one, done=True, by=by, at=now, cells=more)
    if not running:
        _hold(car, cells, holds, by)
        row = {**cells, "from_at": written(now), "to_at": written(now), "done": "yes"}
        add_observations(car=car, table=WORKED, rows=[_filled({**row, "by": _name(by)})], by=by)


def _hold(car: Car, cells: Mapping[str, str], option: str, by: Any) -> None:
    """Fix what is being done, where nobody has: from here on it is not chosen otherwise."""
    subject = cells.get("subject", "")
    if option and not car.decisions.current().filter(subject=subject).exists():
        why = f"work began: {cells['task']}"
        lock_option(car=car, subject=subject, option=option, reason=why, by=by)


def _name(by: Any) -> str:
    return "" if by is None else by.get_username()


def _filled(row: Mapping[str, str]) -> dict[str, str]:
    return {name: cell for name, cell in row.items() if cell}
