"""What is reserved and used of a piece of the salvage stock, for which car; given back, kept."""

from __future__ import annotations

from typing import Any

import shapely
from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.craft.salvage import Piece
from asfound.record.actions.salvage import take_stock_turn
from asfound.record.actions.salvage_shape import check_outline
from asfound.record.actions.who import check_may_write, check_reason
from asfound.record.convert.salvage import count_left, piece_of
from asfound.record.log import write_entry
from asfound.record.models import Car, SalvagePiece, SalvageRow, SalvageUse
from asfound.record.reads.salvage import state_of_piece

_OVERLAP_MM2 = 1.0
"""What two outlines that were drawn along each other may share."""
_EDGE_MM = 0.5


@transaction.atomic
def take_of_piece(
    *,
    piece: SalvagePiece,
    what: str,
    car: Car | None,
    by: Any,
    need: str = "",
    part: str = "",
    count: int | None = None,
    outline_wkt: str = "",
    note: str = "",
) -> SalvageUse:
    """Reservation or use of an area, of some of what is counted, or else of the whole piece.

    Parameters
    ----------
    piece : SalvagePiece
    what : str
        ``reserved`` or ``used``.
    car : Car or None
        For which car; ``None`` for the workshop itself.
    by : user or None
    need, part : str
        The need that it serves, the part that was made of it.
    count : int, optional
    outline_wkt : str
        In the piece's mm.
    note : str

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the piece is withdrawn, the area is not free, or fewer are left.
    """
    check_may_write(by)
    take_stock_turn()
    check_outline(outline_wkt)
    _check_free(piece, count=count, outline_wkt=outline_wkt)
    use: SalvageUse = SalvageUse.objects.create(
        piece=piece,
        what=what,
        car=car,
        need=need,
        part=part,
        count=count,
        outline_wkt=outline_wkt,
        note=note.strip(),
        entered_by=by,
    )
    verb = "reserve" if what == "reserved" else "use"
    write_entry(action=f"{verb} salvage piece", by=by, car=car, after=told(use))
    return use


@transaction.atomic
def use_reserved(*, use: SalvageUse, by: Any, part: str = "") -> SalvageUse:
    """What was reserved is used now; the reservation is kept as the row before.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is no reservation that counts.
    """
    check_may_write(by)
    take_stock_turn()
    _check_counts(use)
    if use.what != "reserved":
        raise InputError(field="use", got=str(use), allowed="a reservation")
    new: SalvageUse = SalvageUse.objects.create(
        piece=use.piece,
        what="used",
        car=use.car,
        need=use.need,
        part=part or use.part,
        count=use.count,
        outline_wkt=use.outline_wkt,
        note=use.note,
        entered_by=by,
    )
    use.superseded_by, use.reason = new, "used"
    use.save(update_fields=["superseded_by", "reason"])
    write_entry(action="use salvage piece", by=by, car=use.car, before=told(use), after=told(new))
    return new


@transaction.atomic
def give_back(*, use: SalvageUse, reason: str, by: Any) -> None:
    """Reservation or use that counts no longer: what it took is free again.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it counts no longer already, or the reason is empty.
    """
    check_may_write(by)
    take_stock_turn()
    check_reason(reason)
    _check_counts(use)
    use.withdrawn_at, use.withdrawn_by = timezone.now(), by
    use.reason = reason.strip()
    use.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(
        action="give salvage piece back",
        by=by,
        car=use.car,
        before=told(use),
        after={"number": use.piece.number, "why": use.reason},
    )


@transaction.atomic
def restore_use(*, use: SalvageUse, by: Any) -> None:
    """Let what was given back be reserved or used again, if it is still free.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it was not given back, or is taken since.
    """
    check_may_write(by)
    take_stock_turn()
    held = SalvageUse.objects.filter(pk=use.pk, withdrawn_at__isnull=False).first()
    if held is None:
        raise InputError(field="use", got=str(use), allowed="one that was given back")
    _check_free(held.piece, count=held.count, outline_wkt=held.outline_wkt)
    held.withdrawn_at = held.withdrawn_by = None
    held.reason = ""
    held.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(action="restore salvage use", by=by, car=held.car, after=told(held))


def told(use: SalvageUse) -> dict[str, Any]:
    """Use in the log: what is filled."""
    cells = {name: getattr(use, name) for name in ("what", "need", "part", "count", "note")}
    area = shapely.from_wkt(use.outline_wkt).area if use.outline_wkt else None
    told = {**cells, "area_mm2": None if area is None else round(area)}
    return {"number": use.piece.number, **{k: v for k, v in told.items() if v not in ("", None)}}


def _check_counts(use: SalvageUse) -> None:
    if not SalvageUse.objects.current().filter(pk=use.pk).exists():
        raise InputError(
            field="use",
            got=f"{use}, which somebody else ended meanwhile",
            allowed="one that counts",
            remedy="Open the page of the piece again.",
        )


def _check_free(piece: SalvagePiece, *, count: int | None, outline_wkt: str) -> None:
    row: SalvageRow | None = piece.rows.filter(superseded_by=None, withdrawn_at=None).first()
    if row is None:
        raise InputError(
            field="piece", got=piece.number, allowed="one that was not withdrawn from the stock"
        )
    state = state_of_piece(row)
    if state.is_whole_taken:
        raise InputError(field="piece", got=f"{row}, which is taken whole", allowed="a free one")
    held = piece_of(state)
    if outline_wkt:
        _check_area(held, outline_wkt)
    elif count is not None:
        left = count_left(state)
        if left is None or count > left:
            got = f"{count}" if left is None else f"{count} of {left}"
            raise InputError(field="count", got=got, allowed="no more than are left")
    elif state.taken_wkt or state.counts_taken:
        raise InputError(
            field="piece",
            got=f"{row}, of which something is taken already",
            allowed="an area or a count of what is left",
            remedy="Say how many, or lay a need on it; or give the others back first.",
        )


def _check_area(piece: Piece, outline_wkt: str) -> None:
    area = shapely.from_wkt(outline_wkt)
    free = piece.free().buffer(_EDGE_MM, join_style="mitre")
    if piece.outline is None or area.difference(free).area > _OVERLAP_MM2:
        raise InputError(
            field="outline_wkt",
            got="an area that lies off the piece, on a flaw, or on what is taken",
            allowed="free",
            remedy="Lay it out once more: somebody may have taken it meanwhile.",
        )
