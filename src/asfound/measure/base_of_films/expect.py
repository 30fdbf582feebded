"""The level of film expected of a new car from the cars surveyed so far."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

import numpy as np

from asfound.base import Estimate, InputError
from asfound.measure.base_of_films.builds import CarBuild, ExpectedFilm
from asfound.measure.base_of_films.mixed import (
    Floats,
    Rows,
    Solved,
    half_normal_grid,
    predict,
    solve,
)
from asfound.measure.base_of_films.priors import BasePriors

GRID_N = 32


def expected_film(
    base: Sequence[CarBuild],
    *,
    kind: str,
    year: float,
    coverage: float = 0.9,
    priors: BasePriors | None = None,
) -> ExpectedFilm:
    """The level of film expected of a new car with its prediction interval.

    Parameters
    ----------
    base : sequence of CarBuild
        The workshop's surveyed cars, each once; may be empty. Leave out the car itself.
    kind : str
        Kind of the new car; a kind that the base has not met is lawful.
    year : float
        Year built, 1850 to 2200.
    coverage : float
        Probability that the interval holds the new car's own level.
    priors : BasePriors, optional
        Starting guesses.

    Raises
    ------
    InputError
        If a car is named twice, or a number is out of range.

    Notes
    -----
    log level = middle + trend·decades + kind + car + error, all normal, the error known for each
    car. Kinds and cars are partially pooled: a kind with few cars leans on the others. The two
    spreads are integrated over a grid of equally likely prior values weighted by the marginal
    likelihood, so that two cars do not pretend to know them. The interval is that of a normal
    with the mixture's mean and variance; it covers a new car's own level, not a gauge reading.
    The expectation stands beside a reading; by itself it is evidence neither for nor against.

    References
    ----------
    Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), chapter 5, hierarchical normal model
    (from memory). The likelihood with flat priors is the restricted one (REML).
    """
    if not 0 < coverage < 1:
        raise InputError(field="coverage", got=coverage, allowed="between 0 and 1")
    if not 1850 <= year <= 2200:
        raise InputError(field="year", got=year, allowed="a year between 1850 and 2200")
    twice = sorted(name for name, n in Counter(b.car for b in base).items() if n > 1)
    if twice:
        raise InputError(field="base", got=twice, allowed="each car once")
    guess = priors or BasePriors()
    kinds = sorted({build.kind for build in base})
    rows = _rows(base, kinds=kinds, guess=guess)
    group = kinds.index(kind) if kind in kinds else None
    log_level = _mixture(rows, group=group, place=_place(year, guess=guess), guess=guess)
    half = log_level.expanded(coverage=coverage)
    return ExpectedFilm(
        level_um=math.exp(log_level.value),
        low_um=math.exp(log_level.value - half),
        high_um=math.exp(log_level.value + half),
        coverage=coverage,
        log_level=log_level,
        cars_n=len(base),
        kind_cars_n=sum(build.kind == kind for build in base),
    )


def _place(year: float, *, guess: BasePriors) -> Floats:
    return np.array([1.0, (year - guess.middle_year) / 10])


def _rows(base: Sequence[CarBuild], *, kinds: list[str], guess: BasePriors) -> Rows:
    return Rows(
        y=np.array([math.log(build.level_um) for build in base], dtype=np.float64),
        u=np.array([build.u_log for build in base], dtype=np.float64),
        group=np.array([kinds.index(build.kind) for build in base], dtype=np.intp),
        groups_n=len(kinds),
        design=np.array([_place(build.year, guess=guess) for build in base]).reshape(-1, 2),
        precision=np.diag([guess.middle_sd**-2, guess.decade_sd**-2]),
        start=np.array([math.log(guess.middle_um), 0.0]),
    )


def _grid(rows: Rows, *, guess: BasePriors) -> list[Solved]:
    group_sds = half_normal_grid(scale=guess.kind_sd, points_n=GRID_N)
    car_sds = half_normal_grid(scale=guess.car_sd, points_n=GRID_N)
    return [
        solve(rows, group_var=float(g) ** 2, car_var=float(c) ** 2)
        for g in group_sds
        for c in car_sds
    ]


def _mixture(rows: Rows, *, group: int | None, place: Floats, guess: BasePriors) -> Estimate:
    grid = _grid(rows, guess=guess)
    heights = np.array([solved.log_likelihood for solved in grid])
    share = np.exp(heights - heights.max())
    share /= share.sum()
    parts = np.array([predict(solved, group=group, place=place) for solved in grid])
    mean = float(share @ parts[:, 0])
    variance = float(share @ (parts[:, 1] + (parts[:, 0] - mean) ** 2))
    return Estimate(value=mean, u=math.sqrt(variance))
