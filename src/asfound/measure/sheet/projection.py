"""Fitting a plane-to-plane map to pairs of points: the algebra behind a homography."""

from __future__ import annotations

import math
from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from asfound.base import InputError

Array = NDArray[np.float64]
LEAST_POINTS = 4
FLATTEST = 1e-6
_THINNEST = 1e-3
_SPREAD = "places of which no three lie in one line, in the same order on photo and panel"
_CORNERS = "Tape points near the panel's corners."


def pairs(points: ArrayLike, name: str) -> Array:
    """An (n, 2) array of finite numbers, or a refusal that names the input.

    Raises
    ------
    InputError
        If it is no such array.
    """
    array = np.asarray(points, float)
    if array.ndim != 2 or array.shape[1] != 2 or not np.all(np.isfinite(array)):
        raise InputError(field=name, got=array.shape, allowed="an (n, 2) array of finite numbers")
    return array


def frame_of(points: Array) -> tuple[float, float, float]:
    """Middle x, middle y, and the scale that brings the mean distance from it to √2.

    Raises
    ------
    InputError
        If all points are one.
    """
    middle = points.mean(axis=0)
    reach = float(np.hypot(*(points - middle).T).mean())
    if reach == 0:
        raise InputError(field="points", got=middle.tolist(), allowed="at different places")
    return float(middle[0]), float(middle[1]), math.sqrt(2) / reach


def in_frame(points: Array, frame: tuple[float, float, float]) -> Array:
    """Points moved to their middle and scaled."""
    return np.asarray((points - np.array(frame[:2])) * frame[2], float)


def refuse_three_in_line(points: Array) -> None:
    """Refuse framed points of which three lie in one line: they fix no map.

    Raises
    ------
    InputError
        If any three do, or nearly.
    """
    for a, b, c in combinations(points, 3):
        (x1, y1), (x2, y2) = b - a, c - a
        if abs(x1 * y2 - x2 * y1) < _THINNEST:
            raise InputError(field="points", got=len(points), allowed=_SPREAD, remedy=_CORNERS)


def pair_rows(x: float, y: float, to_x: float, to_y: float) -> Array:
    """The two equations of one pair, by the eight free entries."""
    return np.array(
        [
            [x, y, 1, 0, 0, 0, -to_x * x, -to_x * y],
            [0, 0, 0, x, y, 1, -to_y * x, -to_y * y],
        ]
    )


def linear_start(source: Array, target: Array) -> Array:
    """The direct linear answer for framed points, as a 3 × 3 matrix that ends in 1.

    Raises
    ------
    InputError
        If the points leave the map undetermined.
    """
    pairs = zip(source, target, strict=True)
    system = np.vstack([pair_rows(x, y, to_x, to_y) for (x, y), (to_x, to_y) in pairs])
    if np.linalg.cond(system) > 1 / FLATTEST:
        raise InputError(
            field="points",
            got=len(source),
            allowed=_SPREAD,
            remedy=_CORNERS,
        )
    entries, *_ = np.linalg.lstsq(system, target.ravel(), rcond=None)
    return np.append(entries, 1.0).reshape(3, 3)


def unframed(entries: Array, place: tuple[float, float, float]) -> Array:
    """The same map with its results in mm instead of framed."""
    back = np.array([[1 / place[2], 0, place[0]], [0, 1 / place[2], place[1]], [0, 0, 1]])
    matrix = back @ entries
    return np.asarray(matrix / matrix[2, 2], float)


def misfit_of(matrix: Array, source: Array, target: Array) -> tuple[Array, Array]:
    """Target less mapped source, and the derivative of what is mapped by the eight entries.

    Raises
    ------
    InputError
        If a point is mapped to the plane's horizon or beyond it.
    """
    w = np.column_stack([source, np.ones(len(source))]) @ matrix.T
    if np.any(w[:, 2] <= FLATTEST):
        raise InputError(
            field="points_px",
            got=len(source),
            allowed="in the same order around the panel as points_mm",
            remedy="Give both lists from the same corner, the same way round.",
        )
    mapped = w[:, :2] / w[:, 2:]
    rows = [
        pair_rows(x, y, u, v) / k for (x, y), (u, v), k in zip(source, mapped, w[:, 2], strict=True)
    ]
    return target - mapped, np.vstack(rows)


def refined(matrix: Array, source: Array, target: Array) -> Array:
    """Least squares on distances in mm; a handful of steps settles a problem this mild."""
    for _ in range(12):
        misfit, jacobian = misfit_of(matrix, source, target)
        step, *_ = np.linalg.lstsq(jacobian, misfit.ravel(), rcond=None)
        matrix = matrix + np.append(step, 0.0).reshape(3, 3)
    return matrix
