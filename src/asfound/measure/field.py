"""Smooth random fields: covariances, kriging with a known trend-free mean, and their fit."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.linalg import cho_solve, cholesky, solve_triangular

from asfound.base import InputError

Floats = NDArray[np.float64]


def matern52(distance_mm: Floats, *, length_mm: float) -> Floats:
    """Matérn correlation (ν = 5/2) at distances of any shape [mm].

    Notes
    -----
    (1 + r + r²/3) exp(−r), r = √5 d/ℓ; Rasmussen and Williams, Gaussian Processes for Machine Learning,
    2006, equation 4.17.
    """
    away = np.sqrt(5.0) / length_mm * distance_mm
    return np.asarray((1 + away + away * away / 3) * np.exp(-away))


def distances_mm(a_mm: Floats, b_mm: Floats) -> Floats:
    """Distances (n, m) between points (n, 2) and (m, 2) [mm]."""
    gap = a_mm[:, None, :] - b_mm[None, :, :]
    return np.asarray(np.sqrt(gap[..., 0] ** 2 + gap[..., 1] ** 2))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class FittedField:
    """A field with zero mean, known at points with noise; see :func:`fit_field`."""

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
