"""Outlines from short paths, as a body draughtsman would strike them."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from shapely import Polygon
from shapely.geometry.polygon import orient

_STEPS = 20
"""Chords for one curve: the longest is then some 50 mm, and the arrow below 1 mm."""

_NUMBERS = {"M": 2, "L": 2, "C": 6, "W": 3}


def outline(path: str) -> Polygon:
    """Outline struck by a path.

    Parameters
    ----------
    path : str
        Pieces of a letter and numbers in mm, y downwards: ``M x y`` start, ``L x y`` straight
        line, ``C x1 y1 x2 y2 x y`` cubic curve with two control points, ``W x y r`` wheel arch:
        half a circle over the centre, from the right to the left.

    Examples
    --------
    >>> outline("M 0 0 L 10 0 L 10 4 L 0 4").area
    40.0
    """
    points: list[tuple[float, float]] = []
    for letter, numbers in _pieces(path):
        points += _struck(letter, numbers, points)
    return orient(Polygon(points))


def _pieces(path: str) -> Iterator[tuple[str, list[float]]]:
    words = path.split()
    while words:
        letter, *words = words
        count = _NUMBERS[letter]
        yield letter, [float(word) for word in words[:count]]
        words = words[count:]


def _struck(
    letter: str, numbers: list[float], points: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    if letter == "C":
        return _cubic(np.array([*points[-1], *numbers]).reshape(4, 2))
    if letter == "W":
        x, y, radius = numbers
        turns = np.linspace(0, math.pi, 2 * _STEPS + 1)
        return [(x + radius * math.cos(t), y - radius * math.sin(t)) for t in turns]
    return [(numbers[0], numbers[1])]


def _cubic(corners: np.ndarray) -> list[tuple[float, float]]:
    t = np.linspace(0, 1, _STEPS + 1)[1:, None]
    weights = np.hstack([(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t), t**3])
    return [(float(x), float(y)) for x, y in weights @ corners]
