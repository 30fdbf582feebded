"""Rows of the salvage stock become cells and states, and cells the fields of a row."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from asfound.record.convert.salvage import StockState
from asfound.record.convert.stored_cells import shortest
from asfound.record.models import SalvageRow, SalvageUse

ROW_COLUMNS = (
    "kind",
    "name",
    "source_car",
    "made",
    "L",
    "a",
    "b",
    "thickness_mm",
    "count",
    "outline_wkt",
    "nap",
    "nap_deg",
    "place",
    "note",
)
NUMBERS = frozenset({"L", "a", "b", "thickness_mm", "nap_deg"})


def cells_of(row: SalvageRow) -> dict[str, str]:
    """Cells of the row's columns, numbers in their shortest form."""
    told = {name: getattr(row, name) for name in ROW_COLUMNS}
    return {
        name: shortest(value) if name in NUMBERS else "" if value is None else str(value)
        for name, value in told.items()
    }


def fields_of_cells(cells: Mapping[str, str]) -> dict[str, Any]:
    """Values of the row's fields from checked cells."""
    fields: dict[str, Any] = {}
    for name in ROW_COLUMNS:
        text = cells.get(name, "").strip()
        if name in NUMBERS:
            fields[name] = float(text) if text else None
        elif name == "count":
            fields[name] = int(float(text)) if text else None
        else:
            fields[name] = text
    return fields


def state_of(row: SalvageRow, uses: Sequence[SalvageUse]) -> StockState:
    """State of a piece from its row and what was reserved or used of it."""
    areas = tuple(use.outline_wkt for use in uses if use.outline_wkt)
    counted = sum(use.count or 0 for use in uses)
    return StockState(
        number=row.piece.number,
        cells=cells_of(row),
        defects_wkt=tuple(defect["outline_wkt"] for defect in row.defects),
        taken_wkt=areas,
        counts_taken=counted,
        is_whole_taken=any(not use.outline_wkt and use.count is None for use in uses),
    )
