"""Edges, gap readings and instruments of a car become a gap survey."""

from __future__ import annotations

from asfound.measure.gaps import EdgeGround, EdgeReading, GapSurvey
from asfound.record.folder import CarFolder, Row


def gap_survey(car: CarFolder) -> GapSurvey:
    """Gap survey of the car; edges that only readings name come after those of the table."""
    grounds = {row.text("edge"): _ground(row) for row in car.sheet("edges")}
    for row in car.sheet("gaps"):
        grounds.setdefault(row.text("edge"), EdgeGround(edge=row.text("edge")))
    return GapSurvey(
        edges=tuple(grounds.values()),
        readings=tuple(_reading(row) for row in car.sheet("gaps")),
        instrument_u_mm=_doubts(car),
    )


def _ground(row: Row) -> EdgeGround:
    return EdgeGround(
        edge=row.text("edge"),
        twin=row.text("twin"),
        least_mm=_or_none(row, "least_mm"),
        most_mm=_or_none(row, "most_mm"),
        source=row.text("source"),
    )


def _reading(row: Row) -> EdgeReading:
    return EdgeReading(
        edge=row.text("edge"),
        along_mm=row.number("along_mm"),
        gap_mm=row.number("gap_mm"),
        flush_mm=_or_none(row, "flush_mm"),
    )


def _doubts(car: CarFolder) -> dict[str, float]:
    """Largest u of the instruments used on an edge, where every one of them states its u."""
    stated = {
        row.text("instrument"): row.number("u")
        for row in car.sheet("instruments")
        if row.text("kind") == "gap" and row.text("unit") == "mm" and row.number("u") > 0
    }
    used: dict[str, set[str]] = {}
    for row in car.sheet("gaps"):
        used.setdefault(row.text("edge"), set()).add(row.text("instrument"))
    return {
        edge: max(stated[name] for name in names)
        for edge, names in used.items()
        if names <= stated.keys()
    }


def _or_none(row: Row, column: str) -> float | None:
    return row.number(column) if row.text(column) else None
