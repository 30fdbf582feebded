"""Pieces of the salvage stock and needs of a car as what the core holds against each other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

import shapely
from shapely import Polygon

from asfound.craft.salvage import Match, Need, Piece, match_pieces
from asfound.measure.colour.difference import delta_e00
from asfound.record.convert.years import built_years

Lab = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class StockState:
    """A piece with what is gone of it: all that a match asks, as plain values.

    ``taken_wkt`` are areas that are used or reserved; ``is_whole_taken`` says that all of it is.
    """

    number: str
    cells: Mapping[str, str]
    defects_wkt: tuple[str, ...]
    taken_wkt: tuple[str, ...]
    counts_taken: int
    is_whole_taken: bool

    def told(self) -> dict[str, Any]:
        """The same as JSON knows it, for a hash."""
        return {
            "number": self.number,
            "cells": dict(self.cells),
            "defects": list(self.defects_wkt),
            "taken": list(self.taken_wkt),
            "counts": self.counts_taken,
            "whole": self.is_whole_taken,
        }


def piece_of(state: StockState) -> Piece:
    """Piece of the core."""
    cells = state.cells
    outline = _polygon(cells.get("outline_wkt", ""))
    taken = tuple(_areas(state.taken_wkt))
    if state.is_whole_taken and outline is not None:
        taken = (outline,)
    nap = cells.get("nap", "")
    return Piece(
        number=state.number,
        kind=cells["kind"].strip().lower(),
        outline=outline,
        defects=tuple(_areas(state.defects_wkt)),
        taken=taken,
        nap_deg=_number(cells.get("nap_deg", "")) if nap else None,
        both_ways=nap == "both ways",
        made=built_years(cells.get("made", "")),
        thickness_mm=_number(cells.get("thickness_mm", "")),
        count=count_left(state),
    )


def count_left(state: StockState) -> int | None:
    """How many are left, of what is counted."""
    text = state.cells.get("count", "")
    if not text:
        return 0 if state.is_whole_taken and not state.cells.get("outline_wkt") else None
    return 0 if state.is_whole_taken else max(int(float(text)) - state.counts_taken, 0)


def need_of(cells: Mapping[str, str]) -> Need:
    """Need of the core from a row of ``needs.csv``."""
    count = _number(cells.get("count", ""))
    return Need(
        kind=cells["kind"].strip().lower(),
        outline=_polygon(cells.get("outline_wkt", "")),
        nap_deg=_number(cells.get("nap_deg", "")),
        turn_deg=_number(cells.get("turn_deg", "")) or 0.0,
        made=built_years(cells.get("made", "")),
        delta_e_most=_number(cells.get("delta_e_most", "")),
        thickness_least_mm=_number(cells.get("thickness_least_mm", "")),
        thickness_most_mm=_number(cells.get("thickness_most_mm", "")),
        count=1 if count is None else int(count),
    )


def lab_of(cells: Mapping[str, str]) -> Lab | None:
    """Colour that the cells tell, if all three stand there."""
    light, green, blue = (_number(cells.get(name, "")) for name in ("L", "a", "b"))
    if light is None or green is None or blue is None:
        return None
    return light, green, blue


def matches_of(cells: Mapping[str, str], stock: Iterable[StockState]) -> tuple[Match, ...]:
    """Pieces held against a need, the best first."""
    states = list(stock)
    asked = lab_of(cells)
    colours: dict[str, float | None] = {}
    if asked is not None:
        for state in states:
            there = lab_of(state.cells)
            colours[state.number] = None if there is None else delta_e00(asked, there)
    return match_pieces(need_of(cells), map(piece_of, states), delta_e00=colours)


def _areas(texts: Iterable[str]) -> Iterable[Polygon]:
    return (area for area in map(_polygon, texts) if area is not None)


def _polygon(text: str) -> Polygon | None:
    shape = shapely.force_2d(shapely.from_wkt(text)) if text else None
    return shape if isinstance(shape, Polygon) else None


def _number(text: str) -> float | None:
    return float(text) if text else None
