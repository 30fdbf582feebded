"""Needs of a car: told and told rightly, each under a name of its own."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.observation import add_observations, correct_observation
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.models import Car, Observation

NEEDS = "needs"


@transaction.atomic
def tell_need(*, car: Car, cells: Mapping[str, str], by: Any, key: str = "") -> Observation | None:
    """Need of the car; ``None`` if it came before under this key.

    Parameters
    ----------
    car : Car
    cells : mapping
        Cells of ``needs.csv``, checked by the exchange.
    by : user or None
    key : str
        Made by the sender.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the car has a need of that name.
    """
    check_may_write(by)
    take_turn(car)
    if key and car.arrivals.filter(key=key).exists():
        return None
    check_own_name(car, cells["need"])
    made = add_observations(car=car, table=NEEDS, rows=[cells], by=by, key=key)
    return made[0]


@transaction.atomic
def correct_need(
    *, need: Observation, cells: Mapping[str, str], reason: str, by: Any
) -> Observation:
    """Need that supersedes another; what it said before is kept with the reason.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it counts no longer, the reason is empty, or another need has its name.
    """
    check_may_write(by)
    take_turn(need.car)
    name = cells.get("need", need.cells["need"])
    if name != need.cells["need"]:
        check_own_name(need.car, name)
    return correct_observation(observation=need, cells=cells, reason=reason, by=by)


def check_own_name(car: Car, name: str) -> None:
    """Raise where a need of the car that counts has the name already.

    Raises
    ------
    InputError
        With the name.
    """
    if car.observations.current().filter(table=NEEDS, cells__need=name).exists():
        raise InputError(field="need", got=name, allowed="a name that no other need of the car has")
