"""Room for words: each label takes a place that nothing else has."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from asfound.dossier.figures.svg import Points

_NARROW = set("fijlrtI.,:;'|()[] ")
_WIDE = set("mwMWQO%@—≥")
_GAP = 1.5
"""Clear space kept around a label [drawing units]."""


def width_of(text: str, *, size: float, spaced: float = 0.0) -> float:
    """Width that a text takes, on the safe side for any plain face [drawing units]."""
    return sum(_em(letter) + spaced for letter in text) * size


def _em(letter: str) -> float:
    if letter in _NARROW:
        return 0.32
    if letter in _WIDE:
        return 0.88
    return 0.70 if letter.isupper() else 0.57


def box_around(
    x: float, y: float, *, width: float, height: float, angle_deg: float = 0.0
) -> Polygon:
    """Rectangle about its centre, turned clockwise on the drawing."""
    turn = math.radians(angle_deg)
    along = (math.cos(turn) * width / 2, math.sin(turn) * width / 2)
    across = (-math.sin(turn) * height / 2, math.cos(turn) * height / 2)
    signs = ((-1, -1), (1, -1), (1, 1), (-1, 1))
    return Polygon(
        [(x + i * along[0] + j * across[0], y + i * along[1] + j * across[1]) for i, j in signs]
    )


@dataclass(slots=True)
class Room:
    """The drawing's sheet, what is taken on it, and the panels that labels may be kept off."""

    bounds: tuple[float, float, float, float]
    ground: list[Polygon] = field(default_factory=list)
    taken: list[BaseGeometry] = field(default_factory=list)
    words: list[BaseGeometry] = field(default_factory=list)

    def is_free(self, box: Polygon, *, off_panels: bool = False) -> bool:
        """Whether a label may stand there."""
        left, top, right, bottom = box.bounds
        x0, y0, x1, y1 = self.bounds
        if left < x0 or top < y0 or right > x1 or bottom > y1:
            return False
        near = box.buffer(_GAP, cap_style="square", join_style="mitre")
        others = [*self.taken, *self.ground] if off_panels else self.taken
        return not (others and bool(shapely.intersects(others, near).any()))

    def take(self, *shapes: BaseGeometry) -> None:
        """Mark shapes as taken."""
        self.taken.extend(shapes)

    def take_words(self, *shapes: BaseGeometry) -> None:
        """Mark labels and their leaders as taken; no leader may run through them."""
        self.taken.extend(shapes)
        self.words.extend(shapes)

    def first_free(self, boxes: Iterable[Polygon], *, off_panels: bool = False) -> Polygon | None:
        """The first box that is free, now taken; ``None`` if none is."""
        for box in boxes:
            if self.is_free(box, off_panels=off_panels):
                self.take_words(box)
                return box
        return None

    def crosses_words(self, line: LineString) -> bool:
        """Whether a leader would run through other words."""
        return bool(self.words) and bool(shapely.intersects(self.words, line).any())


def centre(box: Polygon) -> tuple[float, float]:
    """Middle of a rectangle."""
    left, top, right, bottom = box.bounds
    return (left + right) / 2, (top + bottom) / 2


def lengths_along(points: Points) -> list[float]:
    """Length from the first point to each point along a line."""
    total, out = 0.0, [0.0]
    for (x0, y0), (x1, y1) in zip(points[:-1].tolist(), points[1:].tolist(), strict=True):
        total += math.hypot(x1 - x0, y1 - y0)
        out.append(total)
    return out
