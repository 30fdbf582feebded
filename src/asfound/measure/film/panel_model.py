"""A panel as a Gaussian model: level, smooth unevenness, and local works added to it.

The spots y of a panel are a₀·1 + Σ aₖ φₖ + e, where e is unevenness and noise with a known
covariance, and each amount a has a bell-shaped prior. All amounts can then be integrated out,
so that the evidence for adding one more work to a set of works needs only products of whitened
shapes, which are formed once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import solve_triangular

from asfound.measure.field import matern52
from asfound.measure.film import priors
from asfound.measure.film.reading import Kind

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
AnyFloats = NDArray[np.floating[Any]]


@dataclass(frozen=True, slots=True, eq=False)
class Data:
    """The spots of a panel as numbers.

    ``gross`` marks spots so thick that only local work explains them; they say where, not how
    thick. ``scale_um`` is the panel's own usual film, which its unevenness is relative to.
    """

    spots_mm: Floats
    y_um: Floats
    noise: Floats  # (n, n) covariance of the spots' errors
    gross: NDArray[np.bool_]
    scale_um: float


@dataclass(frozen=True, slots=True, eq=False)
class Works:
    """Every local work that may be tried: a shape with an amount.

    ``shape`` (e,) points into the columns of the products (0 is the level); ``mean_um`` and
    ``var`` are the amount's prior, ``least_um`` what it must add (or take) to count, ``log_odds``
    its weight among all works, ``kind`` its name's index, ``cover`` (e, n) tells which spots it
    covers.
    """

    shape: Ints
    mean_um: Floats
    var: Floats
    least_um: Floats
    log_odds: Floats
    kind: Ints
    cover: Floats


KINDS: tuple[Kind, ...] = ("local respray", "filler", "polished thin")


def list_works(heights: Floats, ellipse_log_odds: Floats, scale_um: float) -> Works:
    """All works for shapes with these heights (d, n) at all spots of the panel."""
    ellipses_n = len(ellipse_log_odds)
    bands_n = len(heights) - ellipses_n
    add, thin = np.arange(ellipses_n), np.arange(ellipses_n, len(heights))
    share = 1 - (priors.THIN_ODDS if bands_n else 0.0)
    shape = np.concatenate([*([add] * len(priors.ADDED)), thin])
    means = [np.full(ellipses_n, a.mean_um) for a in priors.ADDED]
    sds = [np.full(ellipses_n, a.sd_um) for a in priors.ADDED]
    odds = [np.log(share * a.weight) + ellipse_log_odds for a in priors.ADDED]
    kinds = [np.full(ellipses_n, KINDS.index(a.kind)) for a in priors.ADDED]
    least = [np.full(ellipses_n, priors.ADDED_LEAST_UM) for _ in priors.ADDED]
    means.append(np.full(bands_n, priors.THIN_SHARE * scale_um))
    least.append(np.full(bands_n, priors.THIN_LEAST_SHARE * scale_um))
    sds.append(np.full(bands_n, priors.THIN_SD_SHARE * scale_um))
    odds.append(np.full(bands_n, np.log(priors.THIN_ODDS / max(bands_n, 1))))
    kinds.append(np.full(bands_n, 2))
    return Works(
        shape=shape + 1,
        mean_um=np.concatenate(means),
        var=np.concatenate(sds) ** 2,
        least_um=np.concatenate(least),
        log_odds=np.concatenate(odds),
        kind=np.concatenate(kinds),
        cover=priors.covered(heights)[shape],
    )


@dataclass(frozen=True, slots=True, eq=False)
class Products:
    """Whitened products of all shapes with each other and with the readings."""

    gram: Floats  # (1 + d, 1 + d)
    with_y: Floats  # (1 + d,)
    log_plain: float  # log density of the readings about zero


def base_covariance(
    data: Data, keep: NDArray[np.bool_], *, within: float, length_mm: float
) -> Floats:
    """Covariance [µm²] of unevenness and noise at the spots kept."""
    at = data.spots_mm[keep]
    apart = np.sqrt(((at[:, None] - at[None]) ** 2).sum(-1))
    smooth = (within * data.scale_um) ** 2 * matern52(apart, length_mm=length_mm)
    fine = (priors.NUGGET_SHARE * data.scale_um) ** 2 + 0.25
    return np.asarray(smooth + data.noise[np.ix_(keep, keep)] + fine * np.eye(len(at)))


def whiten(data: Data, heights: Floats, *, within: float, length_mm: float) -> Products:
    """The products for shapes with ``heights`` (d, n) at all spots."""
    keep = ~data.gross
    covariance = base_covariance(data, keep, within=within, length_mm=length_mm)
    root = np.linalg.cholesky(covariance)
    columns = np.vstack([np.ones(keep.sum()), heights[:, keep], data.y_um[keep]]).T
    white = solve_triangular(root, columns, lower=True, check_finite=False)
    shapes, y = white[:, :-1], white[:, -1]
    log_det = 2 * float(np.log(np.diag(root)).sum())
    plain = -0.5 * (float(y @ y) + log_det + len(y) * np.log(2 * np.pi))
    return Products(shapes.T @ shapes, shapes.T @ y, plain)


@dataclass(frozen=True, slots=True, eq=False)
class Given:
    """Sets of terms already in the model: (c, k) columns with their priors."""

    shape: Ints
    mean_um: Floats
    var: Floats

    def amounts(self, products: Products) -> tuple[Floats, Floats]:
        """Posterior mean (c, k) and covariance (c, k, k) of the amounts."""
        gram = products.gram[self.shape[:, :, None], self.shape[:, None, :]]
        diagonal = np.einsum("ck,kl->ckl", 1 / self.var, np.eye(self.var.shape[1]))
        cov = np.linalg.inv(gram + diagonal)
        rest = products.with_y[self.shape] - np.einsum("ckl,cl->ck", gram, self.mean_um)
        return self.mean_um + np.einsum("ckl,cl->ck", cov, rest), cov


def left_over(
    products: Products, given: Given, columns: slice = slice(None)
) -> tuple[Floats, Floats]:
    """What is left of each column's precision a and pull b once ``given`` is integrated out.

    Returns (c, d) arrays: for an amount with prior N(μ, v) the log Bayes factor of adding the
    column is −½ log(1 + v a) + (b² v + 2 b μ − a μ²)/(2 (1 + v a)).
    """
    diagonal = np.diag(products.gram)[columns]
    if given.shape.shape[1] == 0:
        return diagonal[None], products.with_y[None, columns]
    gram = products.gram[given.shape[:, :, None], given.shape[:, None, :]]
    inverse = np.einsum("ck,kl->ckl", 1 / given.var, np.eye(given.var.shape[1]))
    cov = np.linalg.inv(gram + inverse)
    rest = products.with_y[given.shape] - np.einsum("ckl,cl->ck", gram, given.mean_um)
    across = products.gram[:, columns][given.shape]
    pull = np.einsum("ckl,cl->ck", cov, rest) + given.mean_um
    b = products.with_y[columns] - np.matmul(pull[:, None, :], across)[:, 0]
    a = diagonal - (across * np.matmul(cov, across)).sum(axis=1)
    return np.maximum(a, 0.0), b


def log_sum(logs: AnyFloats | Sequence[Floats], axis: int | None = None) -> Floats:
    """Logarithm of the sum of exp(``logs``) along an axis, safe for large values.

    SciPy's does the same for arrays of any library; small arrays pay dearly for it.
    """
    of = np.asarray(logs)
    top = of.max(axis=axis, keepdims=True)
    total = np.log(np.exp(of - top).sum(axis=axis))
    return np.asarray(total + top.reshape(total.shape))


def log_gain(a: Floats, b: Floats, mean_um: Floats, var: Floats) -> Floats:
    """Log Bayes factor of adding a column with left-over (a, b) and amount N(mean, var)."""
    grow = 1 + var * a
    return np.asarray(
        -0.5 * np.log(grow) + (b * (b * var + 2 * mean_um) - a * mean_um**2) / (2 * grow)
    )


def log_gain_of_work(a: Floats, b: Floats, works: Works) -> AnyFloats:
    """Log Bayes factor (c, e) of one more work with left-over (a, b) of every column.

    Notes
    -----
    As :func:`log_gain`, for an amount that must pass ``least_um``.
    """
    # Single precision, as this is most of the work: it errs by 0.01 at a gain of 10⁵.
    sd = np.sqrt(works.var)
    sign = np.sign(works.least_um)
    var, sd_32, start, bound = (
        x.astype(np.float32)
        for x in (works.var, sign * sd, sign * works.mean_um / sd, np.abs(works.least_um) / sd)
    )
    grow = a.astype(np.float32).take(works.shape, axis=1)
    grow *= var
    grow += 1
    pull = b.astype(np.float32).take(works.shape, axis=1)
    pull *= sd_32
    pull += start
    gain = log_gain_past_least(grow, pull, bound)
    gain -= (0.5 * works.mean_um**2 / works.var).astype(np.float32)
    return gain


def log_gain_past_least(grow: AnyFloats, pull: AnyFloats, bound: AnyFloats) -> AnyFloats:
    """Log Bayes factor of a column whose amount must pass a least one.

    Parameters
    ----------
    grow : array
        1 + v a, with v the variance of the amount's prior and a, b as in :func:`left_over`.
    pull : array
        b √v + μ/√v, taken as rising; it is written over.
    bound : array
        The least amount over √v.

    Notes
    -----
    Where the amount given the readings falls short of the least by −z standard deviations,
    log 2Φ(z) is added, in the form −z²/2 − log(1 − 1.2 z), which is within 0.15 of it; where it
    passes, nothing. The constant −μ²/2v is left to the caller.
    """
    widen = np.sqrt(grow)
    pull /= widen
    short = np.minimum(pull - bound * widen, 0.0)
    gain: AnyFloats = 0.5 * (pull - short) * (pull + short)
    gain -= np.log(widen * (1 - np.float32(1.2) * short))
    return gain
