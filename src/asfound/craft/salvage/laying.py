"""Whether an outline can be laid within what is free of a piece, turned as the nap allows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon
from shapely.affinity import rotate, translate

from asfound.craft.salvage.piece import polygons_of
from asfound.craft.salvage.shapes import (
    Array,
    convex_parts,
    length_mm,
    long_side_deg,
    triangles_of,
    width_mm,
)

TOLERANCE_MM = 0.1
"""An overlap of so little is none: outlines are traced and cut less closely."""
STEP_DEG = 5.0
"""Between turns that are tried; the ends of what the nap allows are tried too."""
_OVERLAP_MM2 = 1e-3


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """An outline laid within a piece.

    Parameters
    ----------
    turn_deg : float
        Turn about its first point's origin, from the x axis towards the y axis, −180 to 180.
    placed : Polygon
        The outline where it lies on the piece.
    """

    turn_deg: float
    placed: Polygon


@dataclass(frozen=True, slots=True, kw_only=True)
class NotLaid:
    """Why an outline is not laid.

    Parameters
    ----------
    because : {"area", "length", "width", "turns"}
        The first three hold at every turn: no free area is as large, as long or as wide.
        ``turns``: none of the turns tried lets it lie within.
    needs, has : float
        What it needs and what the largest free area has, in mm² or mm; both 0 for ``turns``.
    turns_n : int
        How many turns were tried.
    """

    because: Literal["area", "length", "width", "turns"]
    needs: float = 0.0
    has: float = 0.0
    turns_n: int = 0


def turns_allowed(
    *,
    piece_nap_deg: float | None,
    need_nap_deg: float | None,
    turn_deg: float,
    both_ways: bool = False,
) -> tuple[float, ...] | None:
    """Turns to try, those nearest to the nap first; ``None`` where any turn will do.

    Parameters
    ----------
    piece_nap_deg, need_nap_deg : float or None
        Where nap or grain runs on the piece and is to run on what is needed.
    turn_deg : float
        How far it may be turned from there to either side, 0 to 180.
    both_ways : bool
        Whether half a turn makes no difference.

    Examples
    --------
    >>> turns_allowed(piece_nap_deg=90, need_nap_deg=0, turn_deg=7)
    (90.0, 85.0, 95.0, 83.0, 97.0)
    >>> turns_allowed(piece_nap_deg=None, need_nap_deg=0, turn_deg=7)
    """
    if piece_nap_deg is None or need_nap_deg is None:
        return None
    steps = {k * STEP_DEG for k in range(int(turn_deg / STEP_DEG) + 1)} | {float(turn_deg)}
    either = [0.0] + [sign * step for step in sorted(steps - {0.0}) for sign in (-1, 1)]
    bases = (0.0, 180.0) if both_ways else (0.0,)
    middle = piece_nap_deg - need_nap_deg
    turns = (_plain_turn(middle + base + off) for off in either for base in bases)
    return tuple(dict.fromkeys(turns))


def lay_within(
    need: Polygon, free: MultiPolygon, *, turns: Sequence[float] | None = None
) -> Laid | NotLaid:
    """Place at which the outline lies wholly within the free area, or why there is none.

    Parameters
    ----------
    need : Polygon
    free : MultiPolygon
        In the same unit, mm.
    turns : sequence of float, optional
        Turns in degrees to try in this order; every ``STEP_DEG``, and those that lay the longest
        sides along each other, if not given.

    Notes
    -----
    At one turn the answer is exact to ``TOLERANCE_MM``: the places at which a convex part P of the
    outline meets a convex part O of what is not free are the inside of the Minkowski sum
    O ⊕ (−P), the convex hull of the differences of their corners. These sums are taken away, one
    obstacle that is hit after the other, from the places that keep the outline within the bounds
    of the free area, until a place meets no obstacle or none is left. The outline is never turned
    over: leather, cloth and carpet have a face.

    References
    ----------
    de Berg, Cheong, van Kreveld, Overmars, "Computational Geometry", 3rd ed. (2008), section
    13.3: Minkowski sums of convex polygons and their decomposition (from memory).

    Examples
    --------
    >>> sheet = MultiPolygon([shapely.box(0, 0, 100, 40)])
    >>> lay_within(shapely.box(0, 0, 30, 90), sheet, turns=[0]).because
    'turns'
    >>> lay_within(shapely.box(0, 0, 30, 90), sheet, turns=[0, 90]).turn_deg
    90.0
    """
    grown = _grown(free)
    roomy = [area for area in grown if area.area >= need.area]
    if not roomy:
        return NotLaid(because="area", needs=need.area, has=_largest(free))
    refused = _refused_at_any_turn(need, roomy)
    if refused is not None:
        return refused
    areas = [_Area(area) for area in roomy]
    tried = tuple(turns) if turns is not None else tuple(_all_turns(need, roomy))
    for turn in tried:
        turned = rotate(need, turn, origin=(0, 0))
        for area in areas:
            place = area.place_of(turned)
            if place is not None:
                placed = translate(turned, *place)
                return Laid(turn_deg=_plain_turn(turn), placed=placed)
    return NotLaid(because="turns", turns_n=len(tried))


class _Area:
    """One free area, with what surrounds it within its bounds as triangles."""

    def __init__(self, area: Polygon) -> None:
        self.bounds = area.bounds
        around = shapely.box(*area.bounds).difference(area)
        self._triangles = triangles_of(around)
        self._tree = shapely.STRtree(self._triangles)

    def place_of(self, need: Polygon) -> tuple[float, float] | None:
        """Shift at which the outline meets nothing, near the top left; ``None`` if none is."""
        places = self._within_bounds(need)
        parts = [np.asarray(p.exterior.coords)[:-1] for p in convex_parts(need)]
        met: set[int] = set()
        while not places.is_empty:
            shift = _nearest_corner(places)
            hit = self._hit(translate(need, *shift)) - met
            if not hit:
                return shift
            met |= hit
            sums = [_sum(self._corners(i), part) for i in hit for part in parts]
            places = polygons_of(places.difference(shapely.union_all(sums)))
        return None

    def _within_bounds(self, need: Polygon) -> MultiPolygon:
        left, top, right, bottom = self.bounds
        x0, y0, x1, y1 = need.bounds
        if right - left < x1 - x0 or bottom - top < y1 - y0:
            return MultiPolygon()
        return MultiPolygon([shapely.box(left - x0, top - y0, right - x1, bottom - y1)])

    def _hit(self, laid: Polygon) -> set[int]:
        near = self._tree.query(laid, predicate="intersects")
        overlap = shapely.area(shapely.intersection(self._triangles[near], laid))
        return {int(i) for i in near[overlap > _OVERLAP_MM2]}

    def _corners(self, i: int) -> Array:
        return np.asarray(self._triangles[i].exterior.coords)[:-1]


def _sum(obstacle: Array, part: Array) -> shapely.Geometry:
    """Shifts at which the part meets the obstacle: the Minkowski sum O ⊕ (−P)."""
    differences = (obstacle[:, None, :] - part[None, :, :]).reshape(-1, 2)
    return shapely.MultiPoint(differences).convex_hull


def _nearest_corner(places: MultiPolygon) -> tuple[float, float]:
    """Corner of the possible places nearest to the top left, so that the rest stays in one."""
    corners = shapely.get_coordinates(places)
    x, y = corners[int(np.argmin(corners.sum(axis=1)))]
    return float(x), float(y)


def _grown(free: MultiPolygon) -> list[Polygon]:
    wider = free.buffer(TOLERANCE_MM, join_style="mitre", mitre_limit=2)
    return [part for part in shapely.get_parts(wider) if isinstance(part, Polygon)]


def _largest(free: MultiPolygon) -> float:
    return max((float(area.area) for area in free.geoms), default=0.0)


def _refused_at_any_turn(need: Polygon, areas: Sequence[Polygon]) -> NotLaid | None:
    """What lies within another is neither longer nor, across its hull, wider."""
    measures: tuple[tuple[Literal["length", "width"], object], ...] = (
        ("length", length_mm),
        ("width", width_mm),
    )
    for because, measure in measures:
        needs = measure(need)  # type: ignore[operator]  # both are functions of a polygon
        has = max(measure(area) for area in areas)  # type: ignore[operator]  # as above
        if needs > has:
            return NotLaid(because=because, needs=needs, has=has)
    return None


def _all_turns(need: Polygon, areas: Sequence[Polygon]) -> Iterator[float]:
    """Turns that lay long sides along each other, then all round in steps."""
    own = long_side_deg(need)
    for area in areas:
        for quarter in (0, 180, 90, 270):
            yield _plain_turn(long_side_deg(area) - own + quarter)
    yield from (_plain_turn(k * STEP_DEG) for k in range(round(360 / STEP_DEG)))


def _plain_turn(turn_deg: float) -> float:
    """The same turn between −180 and 180."""
    plain = math.remainder(turn_deg, 360.0)
    return 180.0 if plain == -180.0 else plain + 0.0
