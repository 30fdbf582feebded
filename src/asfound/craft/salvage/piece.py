"""A piece of the stock, and what a car needs of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import shapely
from shapely import MultiPolygon, Polygon

from asfound.base import InputError

Years = tuple[int | None, int | None]
"""First and last year; ``None`` where it is open or not known."""
_NOT_KNOWN: Years = (None, None)
LONGEST_MM = 100_000.0
"""Beyond this no hide, roll or pane reaches: the unit is wrong."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece of original material or a part of another car.

    Parameters
    ----------
    number : str
    kind : str
        Hide, cloth, carpet, glass, fixings, in the words of the workshop.
    outline : Polygon or None
        In the piece's own mm, face side up, x to the right and y down.
    defects : tuple of Polygon
        Holes, stains, worn places: areas that nothing is cut from.
    taken : tuple of Polygon
        Areas that were used or are reserved.
    nap_deg : float or None
        Direction in which nap or grain runs, from the x axis towards the y axis; ``None`` if not
        known.
    both_ways : bool
        Nap or grain that looks alike when turned by half a turn.
    made : tuple of two int or None
        Years of its making.
    thickness_mm : float or None
    count : int or None
        How many are left, of what is counted; ``None`` for material that is cut.

    Raises
    ------
    InputError
        If an outline has no area or is beyond any size, a direction is not finite, or a count is
        negative.
    """

    number: str
    kind: str
    outline: Polygon | None = None
    defects: tuple[Polygon, ...] = ()
    taken: tuple[Polygon, ...] = ()
    nap_deg: float | None = None
    both_ways: bool = False
    made: Years = _NOT_KNOWN
    thickness_mm: float | None = None
    count: int | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        _check_outline(self.outline)
        _check_direction(self.nap_deg)
        if self.count is not None and self.count < 0:
            raise InputError(field="count", got=self.count, allowed="0 or more")

    def free(self) -> MultiPolygon:
        """What of the outline is neither flawed nor taken; empty without an outline.

        Examples
        --------
        >>> hide = Piece(number="1", kind="hide", outline=shapely.box(0, 0, 100, 50),
        ...              defects=(shapely.box(0, 0, 20, 50),), taken=(shapely.box(90, 0, 100, 50),))
        >>> hide.free().area
        3500.0
        """
        if self.outline is None:
            return MultiPolygon()
        gone = shapely.union_all([*self.defects, *self.taken])
        return polygons_of(self.outline.difference(gone))


@dataclass(frozen=True, slots=True, kw_only=True)
class Need:
    """What a car needs, as far as it is known; what is left empty is not asked of a piece.

    Parameters
    ----------
    kind : str
    outline : Polygon or None
        In its own mm, face side up, seam allowance included.
    nap_deg : float or None
        Direction in which nap or grain is to run on it, from the x axis towards the y axis.
    turn_deg : float
        How far it may be turned from that direction to either side, 0 to 180.
    made : tuple of two int or None
        Years of which the piece should be.
    delta_e_most : float or None
        Largest ΔE00 from the colour asked.
    thickness_least_mm, thickness_most_mm : float or None
    count : int
        How many, of what is counted.

    Raises
    ------
    InputError
        If a bound is out of its range or two bounds are the wrong way round.
    """

    kind: str
    outline: Polygon | None = None
    nap_deg: float | None = None
    turn_deg: float = 0.0
    made: Years = _NOT_KNOWN
    delta_e_most: float | None = None
    thickness_least_mm: float | None = None
    thickness_most_mm: float | None = None
    count: int = 1

    def __post_init__(self) -> None:
        """Refuse what cannot be."""
        _check_outline(self.outline)
        _check_direction(self.nap_deg)
        if not 0 <= self.turn_deg <= 180:
            raise InputError(field="turn_deg", got=self.turn_deg, allowed="0 to 180 degrees")
        if self.count < 1:
            raise InputError(field="count", got=self.count, allowed="1 or more")
        least, most = self.thickness_least_mm, self.thickness_most_mm
        if least is not None and most is not None and least > most:
            raise InputError(field="thickness_least_mm", got=least, allowed=f"{most:g} mm or less")


def polygons_of(shape: shapely.Geometry) -> MultiPolygon:
    """Areas of a shape; lines, points and slivers that a difference leaves behind are dropped."""
    parts = shapely.get_parts(shape)
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and part.area > 1e-9])


def _check_outline(outline: Polygon | None) -> None:
    if outline is None:
        return
    if not (outline.is_valid and outline.area > 0):
        raise InputError(
            field="outline", got=outline.wkt[:80], allowed="an outline that does not cross itself"
        )
    if max(map(abs, outline.bounds)) > LONGEST_MM:
        raise InputError(
            field="outline", got=outline.wkt[:80], allowed=f"within {LONGEST_MM / 1000:.0f} m"
        )


def _check_direction(nap_deg: float | None) -> None:
    if nap_deg is not None and not math.isfinite(nap_deg):
        raise InputError(field="nap_deg", got=nap_deg, allowed="a direction in degrees")
