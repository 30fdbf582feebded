"""The mixed model's restricted likelihood against a published film-thickness study."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize

from asfound.measure.base_of_films.mixed import Rows, solve


def site_means() -> Rows:
    """Site means of 21 runs × 4 sites × 2 wafers with exactly the study's mean squares.

    The 168 readings were not at hand. In a balanced study the mean squares hold all that they say
    of the variances, so any means with these mean squares serve.
    """
    rng = np.random.default_rng(0)
    runs = rng.normal(size=21)
    runs = (runs - runs.mean()) / runs.std(ddof=1) * np.sqrt(3072.11 / 8)
    sites = rng.normal(size=(21, 4))
    sites -= sites.mean(axis=1, keepdims=True)
    sites *= np.sqrt(571.659 * 63 / 2 / (sites**2).sum())
    y = (1000 + runs[:, None] + sites).ravel()
    return Rows(
        y=y,
        u=np.full(84, np.sqrt(120.893 / 2)),
        group=np.repeat(np.arange(21), 4),
        groups_n=21,
        design=np.ones((84, 1)),
        precision=np.zeros((1, 1)),
        start=np.array([1000.0]),
    )


@pytest.mark.source(
    "NIST/SEMATECH e-Handbook of Statistical Methods, 3.5.1, oxide film thickness: mean squares "
    "3072.11, 571.659, 120.893; variances 312.557 (runs), 225.383 (sites), 120.893 (wafers)"
)
def test_restricted_likelihood_peaks_at_the_published_variances() -> None:
    rows = site_means()
    found = optimize.minimize(
        lambda logs: (
            -solve(rows, group_var=np.exp(logs[0]), car_var=np.exp(logs[1])).log_likelihood
        ),
        x0=np.log([100.0, 100.0]),
        method="Nelder-Mead",
        options={"xatol": 1e-9, "fatol": 1e-12, "maxiter": 2000},
    )
    assert np.exp(found.x) == pytest.approx([312.557, 225.383], abs=5e-3)


def test_likelihood_is_that_of_the_dense_normal() -> None:
    """Against the plain formula with the whole covariance matrix, prior included."""
    rng = np.random.default_rng(4)
    group = np.array([0, 0, 1, 2, 2, 2])
    rows = Rows(
        y=rng.normal(5, 1, 6),
        u=rng.uniform(0.1, 0.3, 6),
        group=group,
        groups_n=3,
        design=np.column_stack([np.ones(6), rng.normal(size=6)]),
        precision=np.diag([1 / 0.8**2, 1 / 0.2**2]),
        start=np.array([5.0, 0.0]),
    )

    def dense(group_var: float, car_var: float) -> float:
        cover = (
            np.diag(rows.u**2 + car_var)
            + group_var * (group[:, None] == group)
            + rows.design @ np.diag([0.8**2, 0.2**2]) @ rows.design.T
        )
        away = rows.y - rows.design @ rows.start
        return -0.5 * (np.linalg.slogdet(cover)[1] + away @ np.linalg.solve(cover, away))

    one = solve(rows, group_var=0.3, car_var=0.1).log_likelihood - dense(0.3, 0.1)
    two = solve(rows, group_var=0.02, car_var=0.5).log_likelihood - dense(0.02, 0.5)
    assert one == pytest.approx(two, abs=1e-9)
