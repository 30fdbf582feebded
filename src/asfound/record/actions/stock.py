"""Stock-take: what was seen in a place against what the register says is there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.part import move_parts_together
from asfound.record.actions.salvage import correct_piece, move_piece
from asfound.record.actions.tags import plain_tag
from asfound.record.actions.turn import take_turns
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Part, Place, SalvageRow
from asfound.record.reads.salvage import pieces_in, stock

NOT_FOUND = "not found at stock-take"


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """What a count of one place found.

    ``there`` were seen where they should be, ``strays`` are seen here but belong elsewhere,
    ``missing`` should be here and were not seen, ``unknown`` are tags that nothing carries. Pieces
    of the salvage stock are told apart in the same three kinds.
    """

    there: tuple[Part, ...]
    strays: tuple[Part, ...]
    missing: tuple[Part, ...]
    unknown: tuple[str, ...]
    pieces_there: tuple[SalvageRow, ...] = ()
    pieces_strayed: tuple[SalvageRow, ...] = ()
    pieces_missing: tuple[SalvageRow, ...] = ()


def count_place(*, place: Place, tags: Sequence[str]) -> Count:
    """What the tags seen in a place say, nothing being written."""
    seen = list(dict.fromkeys(plain_tag(tag) for tag in tags if tag.strip()))
    parts = list(Part.objects.filter(tag__in=seen, fate="").select_related("car"))
    carried = {part.tag for part in parts}
    here = Part.objects.filter(place=place.name, fate="").select_related("car")
    pieces = list(stock().filter(piece__tag__in=seen))
    tagged = {row.piece.tag for row in pieces}
    return Count(
        there=tuple(part for part in parts if part.place == place.name),
        strays=tuple(part for part in parts if part.place != place.name),
        missing=tuple(part for part in here if part.tag not in carried),
        unknown=tuple(tag for tag in seen if tag not in carried | tagged),
        pieces_there=tuple(row for row in pieces if row.place == place.name),
        pieces_strayed=tuple(row for row in pieces if row.place != place.name),
        pieces_missing=tuple(row for row in pieces_in(place.name) if row.piece.tag not in tagged),
    )


@transaction.atomic
def close_count(
    *, place: Place, tags: Sequence[str], bring_strays: bool, mark_missing: bool, by: Any
) -> Count:
    """The count, written: strays are moved here and missing parts lose their place, if asked.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If no tag was seen and missing parts were to be marked: an empty count is a slip.
    """
    check_may_write(by)
    found = count_place(place=place, tags=tags)
    if mark_missing:
        _check_seen(found)
    take_turns(part.car_id for part in (*found.strays, *found.missing))
    if bring_strays:
        _bring_strays(found, place, by)
    if mark_missing:
        _mark_missing(found, place, by)
    write_entry(action="stock-take", by=by, after=_told(found, place))
    return found


def _check_seen(found: Count) -> None:
    if not (found.there or found.strays or found.pieces_there or found.pieces_strayed):
        raise InputError(
            field="tags",
            got="none that a part carries",
            allowed="the tags that were seen",
            remedy="Scan what lies there first.",
        )


def _bring_strays(found: Count, place: Place, by: Any) -> None:
    note = "seen at stock-take"
    move_parts_together(parts=found.strays, to_place=place.name, note=note, by=by)
    for row in found.pieces_strayed:
        move_piece(row=row, place=place.name, by=by)


def _mark_missing(found: Count, place: Place, by: Any) -> None:
    why = f"{NOT_FOUND} in {place.name}"
    move_parts_together(parts=found.missing, to_place="", note=why, by=by)
    for row in found.pieces_missing:
        correct_piece(row=row, cells={"place": ""}, reason=why, by=by)


def _told(found: Count, place: Place) -> dict[str, Any]:
    return {
        "place": place.name,
        "there": [part.tag for part in found.there],
        "strays": [part.tag for part in found.strays],
        "missing": [[part.car.slug, part.part] for part in found.missing],
        "unknown": list(found.unknown),
        "pieces there": [row.piece.number for row in found.pieces_there],
        "pieces strayed": [row.piece.number for row in found.pieces_strayed],
        "pieces missing": [row.piece.number for row in found.pieces_missing],
    }
