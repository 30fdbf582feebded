"""Smooth random fields: their correlation, kriging about zero, and their fit by likelihood."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import scipy
from numpy.typing import NDArray
from scipy.linalg import cho_solve, cholesky, eigh, solve_triangular

from asfound.base import InputError

Floats = NDArray[np.float64]
COARSE_N = 150
BLOCK_N = 250
SHARPEN_STEP, SHARPEN_MOST = 0.15, 4


def matern52(distance_mm: Floats, *, length_mm: float) -> Floats:
    """Matérn correlation (ν = 5/2) at distances of any shape [mm].

    Notes
    -----
    (1 + r + r²/3) exp(−r) with r = √5 d/ℓ; Rasmussen and Williams, Gaussian Processes for
    Machine Learning, 2006, equation 4.17.
    """
    away = np.sqrt(5.0) / length_mm * distance_mm
    fall = np.exp(-away)
    away += 1 + away * away / 3
    away *= fall
    return np.asarray(away)


def distances_mm(a_mm: Floats, b_mm: Floats) -> Floats:
    """Distances (n, m) between points (n, 2) and (m, 2) [mm]."""
    # |a − b|² from products about a common centre: one matrix product instead of n·m·2 gaps.
    centre = b_mm.mean(axis=0) if len(b_mm) else 0.0
    a, b = a_mm - centre, b_mm - centre
    square = a @ (-2.0 * b.T)
    square += (a * a).sum(axis=1)[:, None]
    square += (b * b).sum(axis=1)
    np.maximum(square, 0.0, out=square)
    return np.asarray(np.sqrt(square, out=square))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FittedField:
    """A field with zero mean, known at noisy points; from :func:`krige` or :func:`fit_field`."""

    points_mm: Floats
    sd_um: float
    length_mm: float
    noise_sd_um: float
    log_likelihood: float
    root: Floats
    weights: Floats

    def at(self, points_mm: Floats) -> tuple[Floats, Floats]:
        """Mean and standard deviation [µm] of the field at points (m, 2)."""
        inverse = solve_triangular(
            self.root / self.sd_um, np.eye(len(self.root)), lower=True, check_finite=False
        )
        mean, known = np.empty(len(points_mm)), np.empty(len(points_mm))
        # In blocks that stay in the processor's cache.
        for start in range(0, len(points_mm), BLOCK_N):
            block = slice(start, start + BLOCK_N)
            alike = matern52(
                distances_mm(points_mm[block], self.points_mm), length_mm=self.length_mm
            )
            mean[block] = alike @ self.weights
            white = alike @ inverse.T
            known[block] = np.einsum("ij,ij->i", white, white)
        return self.sd_um**2 * mean, self.sd_um * np.sqrt(np.maximum(1 - known, 0.0))


def krige(
    *, points_mm: Floats, values_um: Floats, sd_um: float, length_mm: float, noise_sd_um: float
) -> FittedField:
    """The field of known covariance through noisy values.

    Raises
    ------
    InputError
        If a parameter is not positive (noise may be zero).

    References
    ----------
    Rasmussen and Williams, Gaussian Processes for Machine Learning, 2006, algorithm 2.1.
    """
    for name, number in (("sd_um", sd_um), ("length_mm", length_mm)):
        if not number > 0:
            raise InputError(field=name, got=number, allowed="more than zero")
    correlation = matern52(distances_mm(points_mm, points_mm), length_mm=length_mm)
    covariance = sd_um**2 * correlation
    covariance[np.diag_indices_from(covariance)] += noise_sd_um**2
    root = cholesky(covariance, lower=True, check_finite=False)
    weights = cho_solve((root, True), values_um, check_finite=False)
    likelihood = (
        -0.5 * float(values_um @ weights)
        - float(np.log(np.diag(root)).sum())
        - 0.5 * len(values_um) * float(np.log(2 * np.pi))
    )
    return FittedField(
        points_mm=points_mm,
        sd_um=sd_um,
        length_mm=length_mm,
        noise_sd_um=noise_sd_um,
        log_likelihood=likelihood,
        root=root,
        weights=weights,
    )


@dataclass(frozen=True, slots=True, eq=False)
class _Spectrum:
    """A correlation matrix taken apart, so that noise and scale cost nothing to try."""

    values: Floats
    turned: Floats  # the readings in the matrix's own axes

    def best(self) -> tuple[float, float, float]:
        """Log likelihood, variance and noise share at their best."""
        found = scipy.optimize.minimize_scalar(
            lambda log_share: -self._profile(float(np.exp(log_share)))[0],
            bounds=(np.log(1e-6), np.log(10.0)),
            method="bounded",
            options={"xatol": 1e-4},
        )
        share = float(np.exp(found.x))
        likelihood, variance = self._profile(share)
        return likelihood, variance, share

    def _profile(self, share: float) -> tuple[float, float]:
        spread = np.maximum(self.values, 0.0) + share
        n = len(spread)
        variance = float((self.turned**2 / spread).sum()) / n
        log_det = float(np.log(spread).sum())
        return -0.5 * (n * np.log(2 * np.pi * variance) + n + log_det), variance


@dataclass(frozen=True, slots=True, eq=False)
class _Lengths:
    """The likelihood of correlation lengths, variance and noise at their best for each."""

    apart_mm: Floats
    values_um: Floats

    def thinned(self, count: int) -> _Lengths:
        """Every so manieth point, about ``count`` of them."""
        step = -(-len(self.values_um) // count)
        return _Lengths(self.apart_mm[::step, ::step], self.values_um[::step])

    def spectrum(self, log_length: float) -> _Spectrum:
        """The correlation matrix at a length, taken apart."""
        correlation = matern52(self.apart_mm, length_mm=float(np.exp(log_length)))
        values, axes = eigh(correlation, overwrite_a=True, check_finite=False, driver="evd")
        return _Spectrum(values, self.values_um @ axes)

    def search(self, limits: Floats) -> float:
        """The best log length between limits."""
        found = scipy.optimize.minimize_scalar(
            lambda log_length: -self.spectrum(float(log_length)).best()[0],
            bounds=tuple(limits),
            method="bounded",
            options={"xatol": 5e-3},
        )
        return float(found.x)

    def sharpen(self, log_length: float, limits: Floats) -> float:
        """The best log length near one that is nearly right."""
        for _ in range(SHARPEN_MOST):
            log_length = float(np.clip(log_length, *(limits + np.array([1, -1]) * SHARPEN_STEP)))
            tried = log_length + np.array([-SHARPEN_STEP, 0.0, SHARPEN_STEP])
            heights = [self.spectrum(float(x)).best()[0] for x in tried]
            bend, slope, _ = np.polyfit(tried - log_length, heights, 2)
            top = -slope / (2 * bend) if bend < 0 else SHARPEN_STEP * np.sign(slope)
            log_length = float(np.clip(log_length + np.clip(top, -0.5, 0.5), *limits))
            if abs(top) < SHARPEN_STEP:
                break
        return log_length


def fit_field(
    *, points_mm: Floats, values_um: Floats, length_limits_mm: tuple[float, float]
) -> FittedField:
    """The field with zero mean that makes noisy values most probable.

    Parameters
    ----------
    points_mm : array, shape (n, 2)
        Places [mm], n at least 3.
    values_um : array, shape (n,)
        Values about zero [µm], not all zero.
    length_limits_mm : tuple of float
        Least and greatest correlation length tried [mm].

    Raises
    ------
    InputError
        If there are fewer than three points, the values are all zero or the limits do not rise.

    Notes
    -----
    For a given length the correlation matrix is taken apart once into its own axes; variance
    then has a closed form and the noise share needs only sums, so that the search over three
    numbers costs one decomposition a length. The length is searched on a thinned set of points
    and then sharpened on all by parabolas, as the likelihood is smooth in its logarithm.
    """
    if len(values_um) < 3 or not np.any(values_um):
        raise InputError(field="values_um", got=len(values_um), allowed="three that vary, or more")
    if not 0 < length_limits_mm[0] < length_limits_mm[1]:
        raise InputError(field="length_limits_mm", got=length_limits_mm, allowed="rising, above 0")
    every = _Lengths(distances_mm(points_mm, points_mm), values_um)
    log_length = every.thinned(COARSE_N).search(np.log(length_limits_mm))
    if len(values_um) > COARSE_N:
        log_length = every.sharpen(log_length, np.log(length_limits_mm))
    length = float(np.exp(log_length))
    _, variance, share = every.spectrum(log_length).best()
    sd = float(np.sqrt(variance))
    return krige(
        points_mm=points_mm,
        values_um=values_um,
        sd_um=sd,
        length_mm=length,
        noise_sd_um=sd * float(np.sqrt(share)),
    )
