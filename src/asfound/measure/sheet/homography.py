"""From a photograph to a flat panel: perspective taken out by points of known place."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike
from shapely import Polygon
from shapely.validation import explain_validity

from asfound.base import Estimate, InputError
from asfound.measure.sheet.projection import (
    FLATTEST,
    LEAST_POINTS,
    Array,
    frame_of,
    in_frame,
    linear_start,
    misfit_of,
    pair_rows,
    pairs,
    refined,
    refuse_three_in_line,
    unframed,
)


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
        framed = in_frame(pairs(points_px, "points_px"), self.frame)
        w = np.column_stack([framed, np.ones(len(framed))]) @ np.reshape(self.matrix, (3, 3)).T
        if np.any(w[:, 2] <= FLATTEST):
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
                got=LEAST_POINTS,
                allowed="five or more for an uncertainty",
                remedy="Tape one or more further points on the panel.",
            )
        x_mm, y_mm = self.to_mm([point_px])[0]
        x, y = in_frame(np.array([point_px], float), self.frame)[0]
        w = np.array(self.matrix[6:8]) @ (x, y) + self.matrix[8]
        jacobian = pair_rows(x, y, x_mm, y_mm) / w
        spread = jacobian @ np.array(self.covariance) @ jacobian.T
        return math.sqrt(max(spread[0, 0], 0.0)), math.sqrt(max(spread[1, 1], 0.0))


def homography_from_points(*, points_px: ArrayLike, points_mm: ArrayLike) -> Homography:
    """The map that takes points on a photo to their taped places on a flat panel.

    Parameters
    ----------
    points_px : array_like
        (n, 2) pixels, n at least 4, and with four no three in one line.
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
    px, mm = pairs(points_px, "points_px"), pairs(points_mm, "points_mm")
    if len(px) != len(mm) or len(px) < LEAST_POINTS:
        raise InputError(
            field="points_mm",
            got=(len(px), len(mm)),
            allowed="as many as points_px, and at least four",
        )
    frame = frame_of(px)
    framed, place = in_frame(px, frame), frame_of(mm)
    target = in_frame(mm, place)
    if len(px) == LEAST_POINTS:
        refuse_three_in_line(framed)
        refuse_three_in_line(target)
    matrix = unframed(linear_start(framed, target), place)
    if len(px) > LEAST_POINTS:
        matrix = refined(matrix, framed, mm)
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
    points = pairs(points_px, "points_px")
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


def _with_scatter(
    matrix: Array, source: Array, target: Array, frame: tuple[float, float, float]
) -> Homography:
    misfit, jacobian = misfit_of(matrix, source, target)
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
