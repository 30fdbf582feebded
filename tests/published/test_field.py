"""The field code against a reference library with the same covariance."""

from __future__ import annotations

import numpy as np
import pytest
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import ConstantKernel, Matern, WhiteKernel

from asfound.base import InputError
from asfound.measure.field import fit_field, krige

RNG = np.random.Generator(np.random.PCG64(3))
POINTS = RNG.uniform(0, 1200, (60, 2))
VALUES = 12 * np.sin(POINTS[:, 0] / 300) + 6 * np.cos(POINTS[:, 1] / 200) + RNG.normal(0, 2, 60)
PLACES = RNG.uniform(0, 1200, (40, 2))


@pytest.mark.source("scikit-learn, GaussianProcessRegressor with a fixed Matérn kernel, ν = 5/2")
def test_kriging_agrees_with_the_reference_library() -> None:
    ours = krige(points_mm=POINTS, values_um=VALUES, sd_um=10.0, length_mm=250.0, noise_sd_um=2.0)
    kernel = ConstantKernel(100.0) * Matern(250.0, nu=2.5)
    theirs = GaussianProcessRegressor(kernel, alpha=4.0, optimizer=None).fit(POINTS, VALUES)
    mean, sd = ours.at(PLACES)
    expected, expected_sd = theirs.predict(PLACES, return_std=True)
    np.testing.assert_allclose(mean, expected, rtol=1e-8, atol=1e-8)
    np.testing.assert_allclose(sd, expected_sd, rtol=1e-6)
    assert ours.log_likelihood == pytest.approx(theirs.log_marginal_likelihood(), rel=1e-10)


@pytest.mark.source("scikit-learn, GaussianProcessRegressor, likelihood optimised")
def test_the_fit_is_as_likely_as_the_reference_library_s() -> None:
    ours = fit_field(points_mm=POINTS, values_um=VALUES, length_limits_mm=(30.0, 3000.0))
    kernel = ConstantKernel(100.0, (1e-2, 1e5)) * Matern(250.0, (30.0, 3000.0), nu=2.5)
    theirs = GaussianProcessRegressor(
        kernel + WhiteKernel(4.0, (1e-4, 1e4)), n_restarts_optimizer=2, random_state=0
    ).fit(POINTS, VALUES)
    assert ours.log_likelihood == pytest.approx(theirs.log_marginal_likelihood_value_, abs=1e-2)


def test_a_field_refuses_what_has_no_meaning() -> None:
    with pytest.raises(InputError, match="length_mm"):
        krige(points_mm=POINTS, values_um=VALUES, sd_um=1.0, length_mm=0.0, noise_sd_um=0.0)
    with pytest.raises(InputError, match="length_limits_mm"):
        fit_field(points_mm=POINTS, values_um=VALUES, length_limits_mm=(300.0, 30.0))
    with pytest.raises(InputError, match="values_um"):
        fit_field(points_mm=POINTS, values_um=0 * VALUES, length_limits_mm=(30.0, 300.0))
