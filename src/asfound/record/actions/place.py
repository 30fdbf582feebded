"""Places of the workshop: made, moved into one another, withdrawn when they are empty."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.tags import is_taken, new_tag
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Part, Place
from asfound.record.models.place import PlaceKind
from asfound.record.reads.salvage import pieces_in


@transaction.atomic
def add_place(
    *, name: str, kind: str, by: Any, within: Place | None = None, tag: str = "", note: str = ""
) -> Place:
    """Place of that name, with a tag of its own.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the name is empty or taken, the kind is not known, or the tag is taken.
    """
    check_may_write(by)
    name = name.strip()
    if not name or Place.objects.filter(name=name).exists():
        raise InputError(field="name", got=name, allowed="given, and of one place only")
    if kind not in PlaceKind.values:
        raise InputError(field="kind", got=kind, allowed=", ".join(PlaceKind.values))
    if tag and is_taken(tag):
        raise InputError(field="tag", got=tag, allowed="free", remedy="Use another label.")
    place = Place.objects.create(
        name=name, kind=kind, within=within, tag=tag or new_tag(), note=note.strip()
    )
    write_entry(action="add place", by=by, after=_told(place))
    return place


@transaction.atomic
def move_place(*, place: Place, within: Place | None, by: Any) -> None:
    """Put a place, with all that is in it, into another.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it would lie within itself, or either is withdrawn.
    """
    check_may_write(by)
    _check_there(place)
    before = _told(place)
    above = within
    while above is not None:
        _check_there(above)
        if above.pk == place.pk:
            raise InputError(field="within", got=str(within), allowed="a place outside this one")
        above = above.within
    place.within = within
    place.save(update_fields=["within"])
    write_entry(action="move place", by=by, before=before, after=_told(place))


@transaction.atomic
def withdraw_place(*, place: Place, reason: str, by: Any) -> None:
    """Let an empty place be used no longer; its name stays in the history of moves.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If something is in it, or the reason is empty.
    """
    check_may_write(by)
    _check_there(place)
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")
    here = Part.objects.filter(place=place.name).exists() or pieces_in(place.name).exists()
    if here or place.inside.filter(withdrawn_at=None).exists():
        raise InputError(
            field="place",
            got=f"{place.name}, which is not empty",
            allowed="an empty place",
            remedy="Move what is in it first.",
        )
    before = _told(place)
    place.withdrawn_at, place.withdrawn_reason = timezone.now(), reason.strip()
    place.save(update_fields=["withdrawn_at", "withdrawn_reason"])
    write_entry(action="withdraw place", by=by, before=before, after={"why": reason.strip()})


def _check_there(place: Place) -> None:
    if place.withdrawn_at is not None:
        raise InputError(field="place", got=place.name, allowed="one that was not withdrawn")


def _told(place: Place) -> dict[str, Any]:
    within = None if place.within is None else place.within.name
    return {"place": place.name, "kind": place.kind, "within": within, "tag": place.tag}
