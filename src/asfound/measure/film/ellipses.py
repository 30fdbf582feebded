"""Feathered ellipses: the shape of work that adds film, and all that are thought possible.

An ellipse is a row of six: x, y and radius [mm], aspect (its radius over its smaller one), turn
[rad] and feather (half the width of its rise, as a share of the radius).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

Floats = NDArray[np.float64]
SMALLEST_MM, LARGEST_MM = 50.0, 380.0
LOG_SMALLEST, LOG_LARGEST = np.log([SMALLEST_MM, LARGEST_MM])
ASPECT_MORE = 0.9
FEATHER_LEAST, FEATHER_MORE, FEATHER_POWER = 0.15, 0.6, 1.5


def drawn(even: Floats) -> Floats:
    """Aspect, turn and feather from three even numbers (n, 3)."""
    return np.column_stack(
        [
            1 + ASPECT_MORE * even[:, 0],
            np.pi * even[:, 1],
            FEATHER_LEAST + FEATHER_MORE * even[:, 2] ** FEATHER_POWER,
        ]
    )


def ellipses_at(ellipses: Floats, points_mm: Floats) -> Floats:
    """The height (d, n) of ellipses (d, 6) at points (n, 2): 1 inside, 0 beyond the feather."""
    x, y, radius, aspect, turn, feather = ellipses.T[:, :, None]
    right, up = points_mm[None, :, 0] - x, points_mm[None, :, 1] - y
    cos, sin = np.cos(turn), np.sin(turn)
    along, across = right * cos + up * sin, (up * cos - right * sin) * aspect
    reach = np.sqrt(along * along + across * across) / radius
    rise = np.clip((1 + feather - reach) / (2 * feather), 0.0, 1.0)
    return np.asarray(rise * rise * (3 - 2 * rise))


@dataclass(frozen=True, slots=True, eq=False)
class Box:
    """The ellipses that a panel may carry, in coordinates in which each is as likely.

    The six are x and y [mm], the logarithm of the radius, and numbers from 0 to 1 for aspect,
    turn and feather.
    """

    outline: shapely.Polygon

    @staticmethod
    def coordinates(ellipses: Floats) -> Floats:
        """Where ellipses (…, 6) lie in the box."""
        x, y, radius, aspect, turn, feather = np.moveaxis(ellipses, -1, 0)
        feather = ((feather - FEATHER_LEAST) / FEATHER_MORE) ** (1 / FEATHER_POWER)
        even = [(aspect - 1) / ASPECT_MORE, turn / np.pi, feather]
        return np.stack([x, y, np.log(radius), *even], axis=-1)

    @staticmethod
    def ellipses(at: Floats) -> Floats:
        """The ellipses at coordinates (n, 6)."""
        return np.column_stack([at[:, :2], np.exp(at[:, 2]), drawn(at[:, 3:])])

    @staticmethod
    def within(at: Floats) -> Floats:
        """Coordinates (n, 6) mirrored at the walls of size, aspect and feather; turns go round."""
        out = at.copy()
        size = (at[:, 2] - LOG_SMALLEST) / (LOG_LARGEST - LOG_SMALLEST)
        out[:, 2] = LOG_SMALLEST + (LOG_LARGEST - LOG_SMALLEST) * _mirrored(size)
        out[:, 3], out[:, 5] = _mirrored(at[:, 3]), _mirrored(at[:, 5])
        out[:, 4] %= 1.0
        return out

    def holds(self, at: Floats) -> NDArray[np.bool_]:
        """Whether the middles (n,) of ellipses at coordinates lie on the panel."""
        return np.asarray(shapely.contains_xy(self.outline, at[:, 0], at[:, 1]))


def _mirrored(share: Floats) -> Floats:
    return np.asarray(1 - np.abs(1 - share % 2.0))
