"""The straight line through points with known or unknown scatter."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from asfound.base import Estimate, InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class StraightLine:
    """y = intercept + slope · x with the covariance of the two.

    ``residual_sd`` is the weighted residual standard deviation (in units of u when the points
    came with their own u); ``residual_dof`` is n − 2.
    """

    intercept: Estimate
    slope: Estimate
    covariance: float
    residual_sd: float
    residual_dof: int

    def at(self, x: float) -> Estimate:
        """The line's y at ``x`` with its uncertainty.

        Notes
        -----
        u² = u_a² + x² u_b² + 2 x cov(a, b); JCGM 100:2008 (GUM), equation H.15.
        """
        variance = self.intercept.u**2 + (x * self.slope.u) ** 2 + 2 * x * self.covariance
        return Estimate(
            value=self.intercept.value + self.slope.value * x,
            u=math.sqrt(max(variance, 0.0)),
            dof=self.intercept.dof,
        )


def _checked(
    x: ArrayLike, y: ArrayLike, u: ArrayLike | None
) -> tuple[NDArray[np.float64], NDArray[np.float64], NDArray[np.float64]]:
    across, up = np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)
    doubt = np.ones_like(up) if u is None else np.asarray(u, dtype=np.float64)
    if across.shape != up.shape or across.shape != doubt.shape or across.ndim != 1:
        raise InputError(field="y", got=up.shape, allowed=f"as long as x, {across.shape}")
    if np.unique(across).size < 2:
        raise InputError(field="x", got=across.tolist(), allowed="two different places or more")
    if not (doubt > 0).all():
        raise InputError(field="u", got=doubt.tolist(), allowed="more than zero")
    return across, up, doubt


def fit_line(*, x: ArrayLike, y: ArrayLike, u: ArrayLike | None = None) -> StraightLine:
    """The least-squares line with the uncertainty of its two numbers.

    Parameters
    ----------
    x, y : array_like, shape (n,)
        Points, in any units; at least two different x.
    u : array_like, shape (n,), optional
        Known standard uncertainty of each y, more than zero. Without it the points weigh the
        same and their scatter is taken from the residuals, which needs three points.

    Raises
    ------
    InputError
        If the shapes differ, all x are equal, a u is not positive, or the scatter is asked of
        two points.

    Notes
    -----
    Weighted normal equations about the weighted mean of x, so that a far origin costs no digits.

    References
    ----------
    JCGM 100:2008 (GUM), H.3.2, equations H.12 and H.13.

    Examples
    --------
    >>> line = fit_line(x=[0, 1, 2], y=[1, 3, 5], u=[0.1, 0.1, 0.1])
    >>> round(line.intercept.value, 9), round(line.slope.value, 9)
    (1.0, 2.0)
    """
    across, up, doubt = _checked(x, y, u)
    dof = across.size - 2
    if u is None and dof < 1:
        raise InputError(field="x", got=across.size, allowed="three points to tell the scatter")
    weight = doubt**-2
    centre = float(weight @ across / weight.sum())
    away = across - centre
    spread = float(weight @ away**2)
    slope = float(weight @ (away * up)) / spread
    level = float(weight @ up / weight.sum())
    residual = up - level - slope * away
    scatter = math.sqrt(float(weight @ residual**2) / dof) if dof else 0.0
    scale = scatter**2 if u is None else 1.0
    var_slope = scale / spread
    var_level = scale / float(weight.sum())
    known = math.inf if u is not None else dof
    return StraightLine(
        intercept=Estimate(
            value=level - slope * centre,
            u=math.sqrt(var_level + centre**2 * var_slope),
            dof=known,
        ),
        slope=Estimate(value=slope, u=math.sqrt(var_slope), dof=known),
        covariance=-centre * var_slope,
        residual_sd=scatter,
        residual_dof=dof,
    )
