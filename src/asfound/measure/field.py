"""Smooth random fields: their correlation, kriging about zero, and their fit by likelihood."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_solve, cholesky, eigh, solve_triangular
from scipy.optimize import minimize_scalar

from asfound.base import InputError

Floats = NDArray[np.float64]


def matern52(distance_mm: Floats, *, length_mm: float) -> Floats:
    """Matérn correlation (ν = 5/2) at distances of any shape [mm].

    Notes
    -----
    (1 + r + r²/3) exp(−r) with r = √5 d/ℓ; Rasmussen and Williams, Gaussian Processes for
    Machine Learning, 2006, equation 4.17.
    """
    away = np.sqrt(5.0) / length_mm * distance_mm
    return np.asarray((1 + away + away * away / 3) * np.exp(-away))


def distances_mm(a_mm: Floats, b_mm: Floats) -> Floats:
    """Distances (n, m) between points (n, 2) and (m, 2) [mm]."""
    gap = a_mm[:, None, :] - b_mm[None, :, :]
    return np.asarray(np.sqrt(gap[..., 0] ** 2 + gap[..., 1] ** 2))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FittedField:
    """A field with zero mean, known at points with noise; see :func:`krige` and :func:`fit_field`."""

    points_mm: Floats
    sd_um: float
    length_mm: float
    noise_sd_um: float
    log_likelihood: float
    root: Floats
    weights: Floats

    def at(self, points_mm: Floats) -> tuple[Floats, Floats]:
        """Mean and standard deviation [µm] of the field at points (m, 2)."""
        cross = self.sd_um**2 * matern52(
            distances_mm(points_mm, self.points_mm), length_mm=self.length_mm
        )
        white = solve_triangular(self.root, cross.T, lower=True, check_finite=False)
        variance = self.sd_um**2 - np.einsum("ij,ij->j", white, white)
        return cross @ self.weights, np.sqrt(np.maximum(variance, 0.0))


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
        found = minimize_scalar(
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
    numbers costs one decomposition a length. The length is found by bounded search.
    """
    if len(values_um) < 3 or not np.any(values_um):
        raise InputError(field="values_um", got=len(values_um), allowed="three that vary, or more")
    if not 0 < length_limits_mm[0] < length_limits_mm[1]:
        raise InputError(field="length_limits_mm", got=length_limits_mm, allowed="rising, above 0")
    apart = distances_mm(points_mm, points_mm)

    def spectrum(log_length: float) -> _Spectrum:
        values, axes = eigh(
            matern52(apart, length_mm=float(np.exp(log_length))),
            overwrite_a=True,
            check_finite=False,
            driver="evd",
        )
        return _Spectrum(values, values_um @ axes)

    found = minimize_scalar(
        lambda log_length: -spectrum(float(log_length)).best()[0],
        bounds=(np.log(length_limits_mm[0]), np.log(length_limits_mm[1])),
        method="bounded",
        options={"xatol": 2e-3},
    )
    length = float(np.exp(found.x))
    _, variance, share = spectrum(float(found.x)).best()
    sd = float(np.sqrt(variance))
    return krige(
        points_mm=points_mm,
        values_um=values_um,
        sd_um=sd,
        length_mm=length,
        noise_sd_um=sd * float(np.sqrt(share)),
    )
