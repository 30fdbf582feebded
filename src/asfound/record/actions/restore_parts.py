"""Undoing what was done to parts, places and the sorting of photographs, each by a new line."""

from __future__ import annotations

from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.observation import withdraw_observation
from asfound.record.actions.part import change_part
from asfound.record.actions.photo import change_photo
from asfound.record.actions.place import move_place
from asfound.record.actions.salvage import correct_piece
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car, Entry, Observation, Part, Photo, Place, SalvageRow

TAKEN_BACK = "taken back"
_SORTED = ("subject", "view", "stage", "x_mm", "y_mm", "note", "marks", "pair")


@transaction.atomic
def undo_move(*, move: Observation, by: Any) -> None:
    """Part where it lay before its latest move, which counts no longer.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the part was moved again since, or the move counts no longer.
    """
    check_may_write(by)
    car = move.car
    take_turn(car)
    moves = car.observations.current().filter(table="moves", subject=move.subject)
    latest = moves.order_by("-position", "-pk").first()
    part = car.parts.filter(part=move.subject, fate="").first()
    to_place = move.cells.get("to_place", "")
    if part is None or latest is None or latest.pk != move.pk or part.place != to_place:
        raise InputError(
            field="move", got=str(move), allowed="the latest move of a part that is still there"
        )
    withdraw_observation(observation=move, reason=TAKEN_BACK, by=by)
    before = move.cells.get("from_place", "")
    car.parts.filter(pk=part.pk).update(place=before)
    write_entry(
        action="take move back",
        by=by,
        car=car,
        before={"part": part.part, "place": to_place},
        after={"part": part.part, "place": before},
    )


@transaction.atomic
def undo_part_change(*, entry: Entry, by: Any) -> None:
    """Part as it was described before a change of the log.

    Raises
    ------
    InputError
        If the line tells of something else, or the part was changed since.
    """
    if entry.action != "change part" or entry.car is None:
        raise InputError(field="entry", got=entry.action, allowed="a change of a part")
    was, then = dict(entry.before or {}), dict(entry.after or {})
    part = entry.car.parts.get(part=was.pop("part"))
    then.pop("part")
    change_part(part=part, cells=was, seen=then, by=by)


@transaction.atomic
def restore_part(*, part: Part, by: Any) -> None:
    """Part that is there again as it was; what stood in its place is withdrawn.

    Parts that were merged with it come back too.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is there, or what stands in its place was worked with since.
    """
    check_may_write(by)
    car = part.car
    take_turn(car)
    part.refresh_from_db()
    if not part.fate:
        raise InputError(field="part", got=str(part), allowed="one that is there no longer")
    numbers = [number for number in part.followed_by.split(";") if number]
    followers = list(car.parts.filter(part__in=numbers))
    for follower in followers:
        _check_untouched(car, follower)
    back = car.parts.filter(pk=part.pk)
    if part.fate == "merged":
        back = car.parts.filter(fate="merged", followed_by=part.followed_by)
    names = list(back.values_list("part", flat=True))
    told = {"parts": names, "fate": part.fate, "why": part.fate_reason}
    back.update(fate="", fate_reason="", followed_by="")
    car.parts.filter(pk__in=[one.pk for one in followers]).update(
        fate="withdrawn", fate_reason=TAKEN_BACK
    )
    write_entry(action="restore part", by=by, car=car, before=told, after={"withdrawn": numbers})


@transaction.atomic
def undo_photo_change(*, photo: Photo, by: Any) -> Photo:
    """Photograph sorted, marked and paired as it was before its latest change.

    Parameters
    ----------
    photo : Photo
        The row from before the change.
    by : user or None

    Raises
    ------
    InputError
        If the row was not changed, or was changed again since.
    """
    now: Any = photo.superseded_by
    if now is None:
        raise InputError(field="photograph", got=photo.file, allowed="one that was changed")
    before = {name: getattr(photo, name) for name in _SORTED}
    return change_photo(photo=now, reason=TAKEN_BACK, by=by, **before)


@transaction.atomic
def undo_place_move(*, entry: Entry, by: Any) -> None:
    """Place where it stood before a move of the log.

    Raises
    ------
    InputError
        If the line tells of something else, or the place stands elsewhere since.
    """
    if entry.action != "move place":
        raise InputError(field="entry", got=entry.action, allowed="a move of a place")
    was, then = dict(entry.before or {}), dict(entry.after or {})
    place = Place.objects.get(name=was["place"])
    within = None if place.within is None else place.within.name
    if within != then["within"]:
        raise InputError(field="place", got=place.name, allowed="one that was not moved again")
    before = None if was["within"] is None else Place.objects.get(name=was["within"])
    move_place(place=place, within=before, by=by)


def undo_piece_move(*, row: SalvageRow, by: Any) -> SalvageRow:
    """Piece where it lay before its latest move.

    Raises
    ------
    InputError
        If it was not moved, or was changed since.
    """
    before = SalvageRow.objects.filter(superseded_by=row).first()
    if before is None or row.superseded_by is not None:
        raise InputError(field="piece", got=str(row), allowed="one that was not changed since")
    return correct_piece(row=row, cells={"place": before.place}, reason=TAKEN_BACK, by=by)


def _check_untouched(car: Car, follower: Part) -> None:
    """What came with a split, a merger or a replacement goes only while nobody worked with it."""
    seen = car.observations.current().filter(subject=follower.part)
    worked = (
        follower.fate
        or follower.lent_to
        or car.parts.filter(parent=follower.part).exists()
        or car.photos.current().filter(subject=follower.part).exists()
        or seen.exclude(table="moves").exists()
        or seen.filter(table="moves").count() > 1
    )
    if worked:
        raise InputError(
            field="part",
            got=f"{follower}, which stands in its place and was worked with since",
            allowed="one that nobody touched",
            remedy="Withdraw it on its own page first, or leave it as it is.",
        )
