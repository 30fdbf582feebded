"""Parts out at platers, machinists, laboratories: sent, back, and the papers between."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.observation import (
    add_observations,
    correct_observation,
    withdraw_observation,
)
from asfound.record.actions.part import move_parts
from asfound.record.actions.place import add_place
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.convert.errands import days_of
from asfound.record.folder import PAPER_FOLDER
from asfound.record.models import Car, KeptFile, Observation, Part, Place
from asfound.record.models.place import PlaceKind
from asfound.record.reads.errands import open_errands

ERRANDS = "errands"


@transaction.atomic
def send_out(
    *, parts: Sequence[Part], cells: Mapping[str, str], by: Any, key: str = ""
) -> tuple[Observation, ...]:
    """Errands of parts of one car, which lie where they were sent from then on.

    Parameters
    ----------
    parts : sequence of Part
    cells : mapping
        Cells of ``errands.csv`` without ``part``, checked by the exchange: at least ``to``,
        ``work`` and ``sent_on``.
    by : user or None
    key : str
        Made by the sender; what comes again under one key is not written again, and gives ().

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If there is no part, they are of several cars, one is out or gone already, it goes to a
        place within the workshop, or it would be due before it was sent.
    """
    check_may_write(by)
    if not parts or len({part.car_id for part in parts}) != 1:
        raise InputError(field="parts", got=len(parts), allowed="one or more parts of one car")
    car = parts[0].car
    take_turn(car)
    _check_at_home(parts)
    check_order(cells)
    _ensure_outside(cells["to"].strip(), by)
    who = "" if by is None else by.get_username()
    rows = [{**cells, "part": part.part, "by": who} for part in parts]
    made = add_observations(car=car, table=ERRANDS, rows=_filled(rows), by=by, key=key)
    if made:
        note = f"sent out: {cells['work'].strip()}"
        move_parts(parts=parts, to_place=cells["to"].strip(), note=note, by=by)
    return made


@transaction.atomic
def bring_back(
    *, errand: Observation, place: str, cells: Mapping[str, str], by: Any
) -> Observation:
    """Errand with the day it ended; its part lies in ``place`` from then on.

    Parameters
    ----------
    errand : Observation
    place : str
    cells : mapping
        ``back_on``, and ``cost`` or ``note`` where they are known now; checked by the exchange.
    by : user or None

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is back already, no place is given, or it would be back before it was sent.
    """
    check_may_write(by)
    part = _part_of(errand)
    if errand.cells.get("back_on"):
        raise InputError(field="errand", got=f"{part}, which is back", allowed="one that is out")
    if not place.strip():
        raise InputError(field="place", got=place, allowed="given: where the part lies now")
    told = {name: cell for name, cell in cells.items() if cell}
    check_order({**errand.cells, **told})
    new = correct_observation(observation=errand, cells=told, reason="it is back", by=by)
    part.refresh_from_db()
    if not part.fate and part.place != place.strip():
        note = f"back from {errand.cells['to']}"
        move_parts(parts=[part], to_place=place.strip(), note=note, by=by)
    return new


@transaction.atomic
def withdraw_errand(*, errand: Observation, place: str, reason: str, by: Any) -> None:
    """Let an errand count no longer: it was never sent, or told twice.

    Parameters
    ----------
    errand : Observation
    place : str
        Where the part lies; empty to leave it where the register has it.
    reason : str
    by : user or None
    """
    part = _part_of(errand)
    withdraw_observation(observation=errand, reason=reason, by=by)
    part.refresh_from_db()
    if place.strip() and not part.fate and part.place != place.strip():
        move_parts(parts=[part], to_place=place.strip(), note="was not sent out", by=by)


@transaction.atomic
def keep_paper(*, errand: Observation, sha256: str, size: int, suffix: str, by: Any) -> Observation:
    """Errand with one more paper, whose bytes are on the shelf; one that it has already stays.

    Parameters
    ----------
    errand : Observation
    sha256 : str
    size : int
    suffix : str
        Of the file's name: ``.pdf``, ``.jpg``, ``.png``, ``.heic``.
    by : user or None

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    path = f"{PAPER_FOLDER}/{sha256}{suffix}"
    papers = papers_of(errand)
    if path in papers:
        return errand
    KeptFile.objects.get_or_create(
        car=errand.car, path=path, defaults={"sha256": sha256, "size": size}
    )
    cells = {"paper": ";".join([*papers, path])}
    return correct_observation(observation=errand, cells=cells, reason="a paper more", by=by)


def papers_of(errand: Observation) -> list[str]:
    """Files of an errand, as their paths in the car folder."""
    return [path.strip() for path in errand.cells.get("paper", "").split(";") if path.strip()]


def check_order(cells: Mapping[str, str]) -> None:
    """Raise where a part would be due or back before it was sent.

    Raises
    ------
    InputError
        With the two dates.
    """
    sent = days_of(cells.get("sent_on", ""))[0]
    for name, words in (("due_on", "due"), ("back_on", "back")):
        last = days_of(cells.get(name, ""))[1]
        if sent is not None and last is not None and last < sent:
            raise InputError(
                field=name,
                got=cells[name],
                allowed=f"no earlier than the day it was sent, {cells['sent_on']}",
                remedy=f"Correct the day it was sent or the day it is {words}.",
            )


def _check_at_home(parts: Sequence[Part]) -> None:
    gone = [str(part) for part in parts if part.fate]
    out = open_errands(parts)
    for names, words in (
        (gone, "is in the register no longer as it was"),
        ([str(part) for part in parts if part.pk in out], "is out already"),
    ):
        if names:
            raise InputError(
                field="parts",
                got=f"{', '.join(names)}, which {words}",
                allowed="parts that are in the workshop",
                remedy="Say on the part's page that it is back, or leave it out.",
            )


def _ensure_outside(name: str, by: Any) -> None:
    """The firm is a place outside, so that one can ask what is there."""
    there = Place.objects.filter(name=name).first()
    if there is None:
        add_place(name=name, kind=PlaceKind.OUTSIDE, by=by)
    elif there.kind != PlaceKind.OUTSIDE and there.withdrawn_at is None:
        raise InputError(
            field="to",
            got=f"{name}, a {there.get_kind_display().lower()} of the workshop",
            allowed="the name of someone outside",
            remedy="A part that stays in the workshop is moved, not sent out.",
        )


def _part_of(errand: Observation) -> Part:
    car: Car = errand.car
    return car.parts.get(part=errand.cells["part"])


def _filled(rows: Sequence[Mapping[str, str]]) -> list[dict[str, str]]:
    return [{name: cell for name, cell in row.items() if cell} for row in rows]
