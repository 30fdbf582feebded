"""From a photograph to a flat panel: perspective taken out by points of known place."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import ArrayLike, NDArray
from shapely import Polygon
from shapely.validation import explain_validity

from asfound.base import Estimate, InputError

Array = NDArray[np.float64]
_LEAST_POINTS = 4
_FLATTEST = 1e-6
_THINNEST = 1e-3
_SPREAD = "places of which no three lie in one line, in the same order on photo and panel"
_CORNERS = "Tape points near the panel's corners."


@dataclass(frozen=True, slots=True, kw_only=True)
class Homography:
    """A plane-to-plane map from photo pixels to mm on the panel.

    Parameters
    ----------
    matrix : tuple of 9 float
        Row by row; the last entry is 1 at the middle of the taped points.
    residuals_mm : tuple of float
        Distance between each taped point and where the map puts it; all zero with four points.
    u_mm : Estimate or None
        Scatter of a taped point in one direction, as value, with its own uncertainty and degrees
        of freedom 2n − 8; ``None`` with four points, since nothing is left to judge by.
    covariance : tuple of tuple of float
        Of the eight free entries, empty with four points.
    frame : tuple of float
        Middle x, middle y and scale of the pixels, which the map works in for a steady solution.
    """

    matrix: tuple[float, ...]
    residuals_mm: tuple[float, ...]
    u_mm: Estimate | None
    covariance: tuple[tuple[float, ...], ...]
    frame: tuple[float, float, float]

    def to_mm(self, points_px: ArrayLike) -> Array:
        """Places on the panel in mm of an (n, 2) array of pixels.

        Raises
        ------
        InputError
            If a pixel lies on or beyond the horizon of the panel's plane.
        """
        framed = _framed(_pairs(points_px, "points_px"), self.frame)
        w = np.column_stack([framed, np.ones(len(framed))]) @ np.reshape(self.matrix, (3, 3)).T
        if np.any(w[:, 2] <= _FLATTEST):
            raise InputError(
                field="points_px",
                got=np.asarray(points_px).tolist()[int(np.argmin(w[:, 2]))],
                allowed="on the near side of the plane's horizon",
                remedy="Trace only the panel on which the taped points lie.",
            )
        return np.asarray(w[:, :2] / w[:, 2:], float)

    def uncertainty_mm(self, point_px: tuple[float, float]) -> tuple[float, float]:
        """Standard uncertainty in x and in y of a pixel's place, from the scatter of the points.

        Raises
        ------
        InputError
            If the map rests on four points only: then there is no scatter to go by.

        Notes
        -----
        First order: J C Jᵀ with the Jacobian of the place by the eight entries.
        """
        if not self.covariance:
            raise InputError(
                field="points",
                got=_LEAST_POINTS,
                allowed="five or more for an uncertainty",
                remedy="Tape one or more further points on the panel.",
            )
        x_mm, y_mm = self.to_mm([point_px])[0]
        x, y = _framed(np.array([point_px], float), self.frame)[0]
        w = np.array(self.matrix[6:8]) @ (x, y) + self.matrix[8]
        jacobian = _rows(x, y, x_mm, y_mm) / w
        spread = jacobian @ np.array(self.covariance) @ jacobian.T
        return math.sqrt(max(spread[0, 0], 0.0)), math.sqrt(max(spread[1, 1], 0.0))


def homography_from_points(*, points_px: ArrayLike, points_mm: ArrayLike) -> Homography:
    """The map that takes points on a photo to their taped places on a flat panel.

    Parameters
    ----------
    points_px : array_like
        (n, 2) pixels, n at least 4, no three of the first four places in one line.
    points_mm : array_like
        (n, 2) places in mm, in the same order.

    Returns
    -------
    Homography

    Raises
    ------
    InputError
        If there are fewer than four points, the arrays differ in length, or the points do not fix
        a map (three in a line, the same point twice).

    Notes
    -----
    Direct linear transform: each pair gives two equations linear in the eight entries
    (the ninth is 1), for pixels moved to their middle and scaled to mean distance √2 from it. More
    than four points are fitted by Gauss–Newton on the distances in mm, begun at the linear answer,
    so that the residuals are true distances. Panels are curved and lenses bend lines: both are
    outside this model and show as residuals, if there are more than four points.

    References
    ----------
    R. Hartley and A. Zisserman, Multiple View Geometry in Computer Vision, 2nd ed. (2004),
    sections 4.1 (direct linear transform) and 4.4 (normalisation), quoted from memory.

    Examples
    --------
    >>> square_px = [(0, 0), (100, 0), (100, 100), (0, 100)]
    >>> square_mm = [(0, 0), (500, 0), (500, 500), (0, 500)]
    >>> found = homography_from_points(points_px=square_px, points_mm=square_mm)
    >>> [round(v) for v in found.to_mm([(50, 20)])[0]]
    [250, 100]
    """
    px, mm = _pairs(points_px, "points_px"), _pairs(points_mm, "points_mm")
    if len(px) != len(mm) or len(px) < _LEAST_POINTS:
        raise InputError(
            field="points_mm",
            got=(len(px), len(mm)),
            allowed="as many as points_px, and at least four",
        )
    frame = _frame_of(px)
    framed, place = _framed(px, frame), _frame_of(mm)
    if len(px) == _LEAST_POINTS:
        _refuse_three_in_line(framed)
        _refuse_three_in_line(_framed(mm, place))
    entries = _linear_start(framed, _framed(mm, place))
    matrix = _unframed(entries, place)
    if len(px) > _LEAST_POINTS:
        matrix = _refined(matrix, framed, mm)
    return _with_scatter(matrix, framed, mm, frame)


def trace_to_panel(points_px: ArrayLike, homography: Homography) -> Polygon:
    """The outline in mm of a panel traced on a photo, its bounding box beginning at 0, 0.

    Parameters
    ----------
    points_px : array_like
        (n, 2) pixels around the panel, n at least 3, in order, without crossing itself.
    homography : Homography
        From taped points in the plane of the panel.

    Raises
    ------
    InputError
        If there are fewer than three points or the trace crosses itself.

    Examples
    --------
    >>> corners = [(0, 0), (10, 0), (10, 10), (0, 10)]
    >>> taped = homography_from_points(
    ...     points_px=corners, points_mm=[(0, 0), (40, 0), (40, 40), (0, 40)]
    ... )
    >>> round(trace_to_panel(corners, taped).area)
    1600
    """
    points = _pairs(points_px, "points_px")
    if len(points) < 3:
        raise InputError(field="points_px", got=len(points), allowed="three points or more")
    mm = homography.to_mm(points)
    outline = Polygon(mm - mm.min(axis=0))
    if not outline.is_valid or outline.area == 0:
        raise InputError(
            field="points_px",
            got=explain_validity(outline),
            allowed="an outline that does not cross itself",
            remedy="Trace the panel's edge once around.",
        )
    return outline


def _pairs(points: ArrayLike, name: str) -> Array:
    array = np.asarray(points, float)
    if array.ndim != 2 or array.shape[1] != 2 or not np.all(np.isfinite(array)):
        raise InputError(field=name, got=array.shape, allowed="an (n, 2) array of finite numbers")
    return array


def _frame_of(points: Array) -> tuple[float, float, float]:
    middle = points.mean(axis=0)
    reach = float(np.hypot(*(points - middle).T).mean())
    if reach == 0:
        raise InputError(field="points", got=middle.tolist(), allowed="at different places")
    return float(middle[0]), float(middle[1]), math.sqrt(2) / reach


def _framed(points: Array, frame: tuple[float, float, float]) -> Array:
    return np.asarray((points - np.array(frame[:2])) * frame[2], float)


def _refuse_three_in_line(points: Array) -> None:
    for a, b, c in combinations(points, 3):
        (x1, y1), (x2, y2) = b - a, c - a
        if abs(x1 * y2 - x2 * y1) < _THINNEST:
            raise InputError(field="points", got=len(points), allowed=_SPREAD, remedy=_CORNERS)


def _rows(x: float, y: float, to_x: float, to_y: float) -> Array:
    """The two equations of one pair, by the eight free entries."""
    return np.array(
        [
            [x, y, 1, 0, 0, 0, -to_x * x, -to_x * y],
            [0, 0, 0, x, y, 1, -to_y * x, -to_y * y],
        ]
    )


def _linear_start(source: Array, target: Array) -> Array:
    pairs = zip(source, target, strict=True)
    system = np.vstack([_rows(x, y, to_x, to_y) for (x, y), (to_x, to_y) in pairs])
    if np.linalg.cond(system) > 1 / _FLATTEST:
        raise InputError(
            field="points",
            got=len(source),
            allowed=_SPREAD,
            remedy=_CORNERS,
        )
    entries, *_ = np.linalg.lstsq(system, target.ravel(), rcond=None)
    return np.append(entries, 1.0).reshape(3, 3)


def _unframed(entries: Array, place: tuple[float, float, float]) -> Array:
    back = np.array([[1 / place[2], 0, place[0]], [0, 1 / place[2], place[1]], [0, 0, 1]])
    matrix = back @ entries
    return np.asarray(matrix / matrix[2, 2], float)


def _misfit(matrix: Array, source: Array, target: Array) -> tuple[Array, Array]:
    w = np.column_stack([source, np.ones(len(source))]) @ matrix.T
    if np.any(w[:, 2] <= _FLATTEST):
        raise InputError(
            field="points_px",
            got=len(source),
            allowed="in the same order around the panel as points_mm",
            remedy="Give both lists from the same corner, the same way round.",
        )
    mapped = w[:, :2] / w[:, 2:]
    rows = [
        _rows(x, y, u, v) / k for (x, y), (u, v), k in zip(source, mapped, w[:, 2], strict=True)
    ]
    return target - mapped, np.vstack(rows)


def _refined(matrix: Array, source: Array, target: Array) -> Array:
    """Least squares on distances in mm; a handful of steps settles a problem this mild."""
    for _ in range(12):
        misfit, jacobian = _misfit(matrix, source, target)
        step, *_ = np.linalg.lstsq(jacobian, misfit.ravel(), rcond=None)
        matrix = matrix + np.append(step, 0.0).reshape(3, 3)
    return matrix


def _with_scatter(
    matrix: Array, source: Array, target: Array, frame: tuple[float, float, float]
) -> Homography:
    misfit, jacobian = _misfit(matrix, source, target)
    spare = 2 * len(source) - 8
    scatter: Estimate | None = None
    covariance: tuple[tuple[float, ...], ...] = ()
    if spare > 0:
        variance = float((misfit**2).sum()) / spare
        scatter = Estimate(
            value=math.sqrt(variance), u=math.sqrt(variance / (2 * spare)), dof=float(spare)
        )
        covariance = tuple(
            tuple(map(float, row)) for row in variance * np.linalg.pinv(jacobian.T @ jacobian)
        )
    return Homography(
        matrix=tuple(map(float, matrix.ravel())),
        residuals_mm=tuple(map(float, np.hypot(*misfit.T))),
        u_mm=scatter,
        covariance=covariance,
        frame=frame,
    )
