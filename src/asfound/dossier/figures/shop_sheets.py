"""The plan of the shop on sheets of paper: all days first, then fortnight after fortnight."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from asfound.dossier.figures.bars import SHOWN_DAYS, WHOLE, WIDTH, Layout, Window
from asfound.dossier.figures.shop_bars import ShopBy, shop_layout, shop_svg
from asfound.record.results.shop_plan import Key, PlannedShop

_FOOT = 44.0


def shop_sheets(
    shop: PlannedShop, *, by: ShopBy, of: Key | None = None, ratio: float
) -> list[tuple[str, str]]:
    """Title and drawing in SVG of each sheet.

    Parameters
    ----------
    shop : PlannedShop
    by : {"person", "bay", "car"}
    of : (str, str) or None
        Car and task whose links are drawn.
    ratio : float
        Height over width of a sheet; rows go on over as many sheets as they need.
    """
    return [
        (
            _title(shop, window, by=by),
            shop_svg(shop, by=by, of=of, window=window, only=rows, theme="print"),
        )
        for window in (WHOLE, *_fortnights(shop))
        for rows in _split(shop_layout(shop, by=by, window=window), most=ratio * WIDTH - _FOOT)
    ]


def _title(shop: PlannedShop, window: Window, *, by: ShopBy) -> str:
    begins, ends = shop.span
    if window.first_day is not None:
        begins, ends = window.first_day, window.first_day + timedelta(days=SHOWN_DAYS["weeks"] - 1)
    return f"Plan of the shop by {by}, {begins:%-d %b %Y} to {ends:%-d %b %Y}"


def _fortnights(shop: PlannedShop) -> Iterator[Window]:
    """Every fortnight in which there is work."""
    begins, ends = shop.span
    day = begins - timedelta(days=begins.weekday())
    while day <= ends:
        after = day + timedelta(days=SHOWN_DAYS["weeks"])
        if any(t.start.date() < after and t.end.date() >= day for t in shop.tasks):
            yield Window(zoom="weeks", first_day=day)
        day = after


def _split(layout: Layout, *, most: float) -> Iterator[tuple[str, ...]]:
    """Rows that a sheet takes together; a row that is taller than a sheet stands alone."""
    rows: list[str] = []
    top = layout.rows[0].top if layout.rows else 0.0
    for row in layout.rows:
        if rows and row.bottom - top > most:
            yield tuple(rows)
            rows, top = [], row.top
        rows.append(row.name)
    yield tuple(rows)
