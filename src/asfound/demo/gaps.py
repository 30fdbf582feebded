"""Gap and flush along the edges of the invented car: one door has dropped on its hinges."""

from __future__ import annotations

from dataclasses import dataclass

from numpy.random import Generator

from asfound.demo.written import Rows

_READING_MM, _BEND_MM = 0.12, 0.08


@dataclass(frozen=True, slots=True, kw_only=True)
class _Edge:
    """An edge as it is: gap and flush at its start, and their change to its end [mm]."""

    name: str
    length_mm: int
    gap_mm: float
    opens_mm: float = 0.0
    proud_mm: float = 0.0
    comes_out_mm: float = 0.0


_EDGES = (
    _Edge(name="left door, front", length_mm=440, gap_mm=4.4, opens_mm=-0.9),
    _Edge(name="right door, front", length_mm=440, gap_mm=4.1),
    _Edge(name="left door, rear", length_mm=420, gap_mm=3.6, opens_mm=2.4, comes_out_mm=1.6),
    _Edge(name="right door, rear", length_mm=420, gap_mm=4.2, opens_mm=0.2, proud_mm=0.3),
    _Edge(name="bonnet, left", length_mm=1200, gap_mm=4.8, opens_mm=0.3, proud_mm=-0.4),
    _Edge(name="bonnet, right", length_mm=1200, gap_mm=4.9, opens_mm=0.2, proud_mm=-0.3),
)
_PLACES_N = 5


def gap_rows(rng: Generator) -> Rows:
    """Rows of ``gaps.csv``: five places on each edge, from the front or from the top."""
    return [
        {
            "edge": edge.name,
            "along_mm": f"{edge.length_mm * share:.0f}",
            "gap_mm": f"{_read(edge.gap_mm + edge.opens_mm * share, rng):.1f}",
            "flush_mm": f"{_read(edge.proud_mm + edge.comes_out_mm * share, rng):.1f}",
            "instrument": "taper gauge",
            "taken_at": "2024-03-06",
            "by": "Wenna Tolk",
        }
        for edge in _EDGES
        for share in (turn / (_PLACES_N - 1) for turn in range(_PLACES_N))
    ]


def _read(true_mm: float, rng: Generator) -> float:
    return true_mm + rng.normal(0, _BEND_MM) + rng.normal(0, _READING_MM)
