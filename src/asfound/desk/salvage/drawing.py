"""Pictures of pieces: to scale, with flaws, cuts and nap."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import Any

import shapely
from shapely import Polygon

from asfound.dossier.figures import PieceDrawing, salvage_svg
from asfound.record.convert.salvage import StockState, piece_of
from asfound.record.models import SalvageRow, SalvageUse


def piece_svg(row: SalvageRow, uses: Iterable[SalvageUse], *, laid: Polygon | None = None) -> str:
    """Figure of a piece as it is now; empty where it has no outline."""
    if not row.outline_wkt:
        return ""
    areas: dict[str, list[Any]] = {"used": [], "reserved": []}
    for use in uses:
        if use.outline_wkt:
            areas[use.what].append(shapely.from_wkt(use.outline_wkt))
    outline = shapely.from_wkt(row.outline_wkt)
    assert isinstance(outline, Polygon)
    return salvage_svg(
        PieceDrawing(
            key=str(row.piece_id),
            name=f"{row.name}, {row.piece.number}",
            outline=outline,
            defects=[_polygon(defect["outline_wkt"]) for defect in row.defects],
            used=areas["used"],
            reserved=areas["reserved"],
            nap_deg=row.nap_deg if row.nap else None,
            both_ways=row.nap == "both ways",
            laid=laid,
        )
    )


def flaw_words(row: SalvageRow) -> str:
    """Flaws by kind, the most common first."""
    counted = Counter(defect["kind"] for defect in row.defects)
    return ", ".join(f"{n} × {kind}" if n > 1 else kind for kind, n in counted.most_common())


def left_words(state: StockState) -> str:
    """How much of a piece is left, in a few words; empty where nobody measured it."""
    piece = piece_of(state)
    if state.is_whole_taken:
        return "all of it is taken"
    if piece.count is not None:
        return f"{piece.count} left"
    if piece.outline is None:
        return ""
    free, whole = piece.free().area, piece.outline.area
    x0, y0, x1, y1 = piece.outline.bounds
    size = f"{x1 - x0:.0f} × {y1 - y0:.0f} mm"
    if free > 0.999 * whole:
        return size
    return f"{size}, {free / 1e4:.1f} of {whole / 1e4:.1f} dm² free"


def _polygon(text: str) -> Polygon:
    shape = shapely.from_wkt(text)
    assert isinstance(shape, Polygon)
    return shape
