"""Plain statistics of a row of readings: mean, standard deviation, lag-1 autocorrelation."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from asfound.base import InputError


def _row(values: ArrayLike, *, least: int) -> NDArray[np.float64]:
    row = np.asarray(values, dtype=np.float64)
    if row.ndim != 1 or row.size < least:
        raise InputError(field="values", got=row.shape, allowed=f"a row of at least {least}")
    if not np.isfinite(row).all():
        raise InputError(field="values", got="a number that is not finite", allowed="finite")
    return row


def mean(values: ArrayLike) -> float:
    """Arithmetic mean of ``values``, in their own unit.

    Parameters
    ----------
    values : array_like, shape (n,)
        At least one finite number.

    Raises
    ------
    InputError
        If the row is empty, not a row, or holds a number that is not finite.

    Notes
    -----
    A second pass takes off what rounding left in the first: x̄ + mean(x − x̄).

    References
    ----------
    NIST Statistical Reference Datasets, univariate summary statistics.

    Examples
    --------
    >>> mean([1.0, 2.0, 3.0])
    2.0
    """
    row = _row(values, least=1)
    first = float(row.mean())
    return first + float((row - first).mean())


def standard_deviation(values: ArrayLike) -> float:
    """Sample standard deviation with divisor n − 1, in the values' own unit.

    Parameters
    ----------
    values : array_like, shape (n,)
        At least two finite numbers.

    Raises
    ------
    InputError
        If the row has fewer than two numbers.

    Notes
    -----
    Deviations are taken from the mean before they are squared (two passes), because the
    one-pass formula loses all digits when the mean is large beside the scatter.

    Examples
    --------
    >>> standard_deviation([1.0, 2.0, 3.0])
    1.0
    """
    row = _row(values, least=2)
    away = row - mean(row)
    return float(np.sqrt((away @ away) / (row.size - 1)))
