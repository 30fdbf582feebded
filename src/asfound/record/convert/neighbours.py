"""Which panels meet: as people wrote it, or as their places on the sheet propose."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

from shapely import Polygon
from shapely.affinity import affine_transform

from asfound.base import InputError
from asfound.record.convert.film import panels_of
from asfound.record.folder import CarFolder
from asfound.record.placement import Placement, parse_placement

NEAR_MM = 40.0
"""Edges of placed panels no further apart than this may meet: a shut line on the drawing is far
narrower, the folds between views are wider (a choice of ours, no source)."""
ALONG_MM = 100.0
"""They must lie so near for at least this length; corners alone do not meet (a choice of ours)."""
PROPOSED = "proposed from the sheet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Neighbours:
    """Pairs of panels that meet, and whether a person wrote them down."""

    pairs: tuple[tuple[str, str], ...]
    proposed: bool


def neighbours_of(car: CarFolder) -> Neighbours:
    """Pairs of the ``neighbours`` table; without one, those that the sheet proposes."""
    written = [(row.text("panel"), row.text("other_panel")) for row in car.sheet("neighbours")]
    if written:
        return Neighbours(pairs=tuple(written), proposed=False)
    return Neighbours(pairs=proposed_neighbours(car), proposed=True)


def proposed_neighbours(car: CarFolder) -> tuple[tuple[str, str], ...]:
    """Pairs of placed panels whose edges run beside each other on the sheet.

    Pairs that meet across a fold of the sheet, as a bonnet and a front wing, are not found:
    they lie apart on the drawing.
    """
    placed = list(placed_outlines(car).items())
    return tuple(
        (one, two) for (one, here), (two, there) in combinations(placed, 2) if _meet(here, there)
    )


def placed_outlines(car: CarFolder) -> dict[str, Polygon]:
    """Outlines on the sheet [mm] of the panels that have a place there."""
    if "panels" not in car.sheets:
        return {}
    places = {row.text("panel"): _place(row.text("placement")) for row in car.sheet("panels")}
    return {
        panel.panel: affine_transform(panel.outline, _matrix(place))
        for panel in panels_of(car)
        if (place := places[panel.panel]) is not None
    }


def _meet(one: Polygon, two: Polygon) -> bool:
    if one.distance(two) > NEAR_MM:
        return False
    along = (one.boundary & two.buffer(NEAR_MM)).length, (two.boundary & one.buffer(NEAR_MM)).length
    return min(along) >= ALONG_MM


def _place(text: str) -> Placement | None:
    try:
        return parse_placement(text)
    except InputError:
        return None  # told where the sheet is drawn


def _matrix(place: Placement) -> list[float]:
    a, b, c, d, e, f = place.matrix
    return [a, c, b, d, e, f]
