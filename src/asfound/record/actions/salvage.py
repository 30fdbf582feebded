"""The salvage stock: pieces entered, described anew, moved, withdrawn; never deleted."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any

from django.db import connection, transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.salvage_shape import check_name, check_outline
from asfound.record.actions.tags import is_taken, new_tag
from asfound.record.actions.who import check_may_write, check_reason
from asfound.record.convert.salvage_rows import ROW_COLUMNS, cells_of, fields_of_cells
from asfound.record.log import write_entry
from asfound.record.models import SalvagePiece, SalvageRow

Cells = Mapping[str, str]
Defects = Sequence[Mapping[str, str]]
_LOCK = 0x61_66_73_76
"""Number of PostgreSQL's advisory lock under which the stock changes; SQLite has one writer."""


@transaction.atomic
def add_piece(
    *,
    cells: Cells,
    by: Any,
    defects: Defects = (),
    number: str = "",
    tag: str = "",
    key: str = "",
) -> SalvagePiece:
    """Piece of the stock, numbered on, with a tag of its own; what came before under its key stays.

    Parameters
    ----------
    cells : mapping
        Cells of ``salvage.csv``, checked by the exchange; ``kind`` and ``name`` are filled.
    by : user or None
    defects : sequence of mapping
        Each with ``kind`` and ``outline_wkt``.
    number, tag : str
        Made if not given.
    key : str
        Made by the sender.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If kind or name is empty, a colour is half told, an outline cannot be, or number or tag
        are taken or cannot stand in an address.
    """
    check_may_write(by)
    take_stock_turn()
    there = SalvagePiece.objects.filter(key=key).first() if key else None
    if there is not None:
        return there
    if number and SalvagePiece.objects.filter(number=number).exists():
        raise InputError(field="number", got=number, allowed="one that no other piece has")
    for name, text in (("number", number), ("tag", tag)):
        if text:
            check_name(text, field=name)
    if tag and is_taken(tag):
        raise InputError(field="tag", got=tag, allowed="free", remedy="Use another label.")
    _check(cells, defects)
    piece = SalvagePiece.objects.create(
        number=number or _next_number(), tag=tag or new_tag(), key=key
    )
    row = SalvageRow.objects.create(
        piece=piece, defects=list(map(dict, defects)), entered_by=by, **fields_of_cells(cells)
    )
    write_entry(action="add salvage piece", by=by, after=told(row))
    return piece


@transaction.atomic
def correct_piece(
    *,
    row: SalvageRow,
    cells: Cells,
    reason: str,
    by: Any,
    defects: Defects | None = None,
) -> SalvageRow:
    """Row that supersedes another; the old one is kept with the reason.

    Parameters
    ----------
    row : SalvageRow
        As the person saw it; one that somebody else corrected meanwhile is refused.
    cells : mapping
        Those that change.
    reason : str
    by : user or None
    defects : sequence of mapping, optional
        All of them; those of the row before if not given.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the row counts no longer, the reason is empty, or the outline changes under cuts.
    """
    check_may_write(by)
    take_stock_turn()
    _check_counts(row, reason)
    merged = {**cells_of(row), **cells}
    flaws = list(row.defects) if defects is None else list(map(dict, defects))
    _check(merged, flaws)
    if merged.get("outline_wkt", "") != row.outline_wkt:
        _check_uncut(row.piece)
    new = SalvageRow.objects.create(
        piece=row.piece, defects=flaws, entered_by=by, **fields_of_cells(merged)
    )
    row.superseded_by, row.reason = new, reason.strip()
    row.save(update_fields=["superseded_by", "reason"])
    write_entry(
        action="correct salvage piece",
        by=by,
        before=told(row),
        after={**told(new), "why": row.reason},
    )
    return new


def move_piece(*, row: SalvageRow, place: str, by: Any) -> SalvageRow:
    """Piece in another place, which is a row of its own.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If no place is given, or the row counts no longer.
    """
    if not place.strip():
        raise InputError(field="place", got=place, allowed="given: where it lies now")
    return correct_piece(row=row, cells={"place": place.strip()}, reason="moved", by=by)


@transaction.atomic
def withdraw_piece(*, row: SalvageRow, reason: str, by: Any) -> None:
    """Let a piece be offered no longer: sold, lost, or entered by mistake; it stays in the record.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it counts no longer already, something of it is reserved, or the reason is empty.
    """
    check_may_write(by)
    take_stock_turn()
    _check_counts(row, reason)
    reserved = row.piece.uses.filter(superseded_by=None, withdrawn_at=None, what="reserved").first()
    if reserved is not None:
        raise InputError(
            field="piece",
            got=f"{row}, of which something is reserved for {reserved.car or 'the workshop'}",
            allowed="one of which nothing is reserved",
            remedy="Give the reservation back first.",
        )
    row.withdrawn_at, row.withdrawn_by = timezone.now(), by
    row.reason = reason.strip()
    row.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(action="withdraw salvage piece", by=by, before=told(row), after={"why": row.reason})


@transaction.atomic
def restore_piece(*, row: SalvageRow, by: Any) -> None:
    """Let a withdrawn piece be offered again.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is not withdrawn.
    """
    check_may_write(by)
    take_stock_turn()
    held = SalvageRow.objects.filter(pk=row.pk, withdrawn_at__isnull=False).first()
    if held is None:
        raise InputError(field="piece", got=str(row), allowed="one that was withdrawn")
    before = {"number": held.piece.number, "withdrawn": held.reason}
    held.withdrawn_at = held.withdrawn_by = None
    held.reason = ""
    held.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(action="restore salvage piece", by=by, before=before, after=told(held))


def take_stock_turn() -> None:
    """Wait until no other action changes the stock; the caller opens the transaction."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_LOCK])


def told(row: SalvageRow) -> dict[str, Any]:
    """Row in the log: its cells that are filled."""
    cells = {name: cell for name, cell in cells_of(row).items() if cell}
    return {"number": row.piece.number, **cells, "defects": len(row.defects)}


def _next_number() -> str:
    taken = SalvagePiece.objects.values_list("number", flat=True)
    numbers = [int(name[1:]) for name in taken if re.fullmatch(r"S\d{1,9}", name, re.ASCII)]
    return f"S{max(numbers, default=0) + 1:04d}"


def _check(cells: Cells, defects: Defects) -> None:
    check_outline(cells.get("outline_wkt", ""))
    for defect in defects:
        check_outline(defect["outline_wkt"], field="defects")
    odd = set(cells) - set(ROW_COLUMNS)
    if odd:
        name = min(odd)
        raise InputError(field=name, got=cells[name], allowed=", ".join(ROW_COLUMNS))
    for name in ("kind", "name"):
        if not cells.get(name, "").strip():
            raise InputError(field=name, got="", allowed="given, in a word or two")
    colour = [name for name in ("L", "a", "b") if cells.get(name)]
    if len(colour) in (1, 2):
        raise InputError(
            field=colour[0],
            got=", ".join(f"{name} {cells[name]}" for name in colour),
            allowed="told with all of L, a and b",
            remedy="Read the colour again, or leave all three empty.",
        )
    if bool(cells.get("nap")) != bool(cells.get("nap_deg")):
        raise InputError(
            field="nap",
            got=cells.get("nap") or cells.get("nap_deg", ""),
            allowed="told with its direction, and a direction with how it runs",
        )


def _check_counts(row: SalvageRow, reason: str) -> None:
    check_reason(reason)
    if not SalvageRow.objects.current().filter(pk=row.pk).exists():
        raise InputError(
            field="piece",
            got=f"{row}, which somebody else changed meanwhile",
            allowed="the piece as you saw it",
            remedy="Open the page again and make the change once more.",
        )


def _check_uncut(piece: SalvagePiece) -> None:
    cut = piece.uses.filter(superseded_by=None, withdrawn_at=None).exclude(outline_wkt="")
    if cut.exists():
        raise InputError(
            field="outline_wkt",
            got="another outline",
            allowed="the outline on which cuts are drawn",
            remedy="Give the reservations back first; what is used stays where it was drawn.",
        )
