"""Invented pieces of the salvage stock, entered where a workshop has none of its own yet."""

from __future__ import annotations

from asfound.demo.written import written
from asfound.record.actions.salvage import add_piece
from asfound.record.convert.salvage_rows import ROW_COLUMNS
from asfound.record.models import SalvagePiece


def keep_stock() -> None:
    """Enter the pieces, unless the record has a stock already: invented ones mix with no other."""
    if SalvagePiece.objects.exists():
        return
    flaws: dict[str, list[dict[str, str]]] = {}
    for row in written("salvage_defects"):
        told = {name: row[name] for name in ("kind", "outline_wkt")}
        flaws.setdefault(row["number"], []).append(told)
    for row in written("salvage"):
        add_piece(
            cells={name: row.get(name, "") for name in ROW_COLUMNS},
            defects=flaws.get(row["number"], ()),
            number=row["number"],
            by=None,
        )
