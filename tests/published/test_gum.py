"""The budget and the straight line against the worked examples of the GUM."""

from __future__ import annotations

import math

import pytest
from scipy import stats

from asfound.base import Estimate
from asfound.measure.budget import Component, combine, from_limits
from asfound.measure.line import fit_line

TEMPERATURE_C = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503]
TEMPERATURE_C += [26.010, 26.511]
CORRECTION_C = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159]
CORRECTION_C += [-0.161, -0.160]


@pytest.mark.source("JCGM 100:2008 (GUM), H.1, table H.1: the end gauge of 50 mm")
def test_end_gauge() -> None:
    measured_difference = [
        Component(u=5.8, dof=24),  # repeats of the difference
        Component(u=3.9, dof=5),  # the comparator, random effects
        Component(u=6.7, dof=8),  # the comparator, systematic effects
    ]
    u_difference, dof_difference = combine(measured_difference)
    assert round(u_difference, 1) == 9.7
    assert math.floor(dof_difference) == 25
    u, dof = combine(
        [
            Component(u=25.0, dof=18),  # the standard's certificate
            Component(u=u_difference, dof=dof_difference),
            Component(u=2.9, dof=50),  # difference of the expansion coefficients
            Component(u=16.6, dof=2),  # difference of the temperatures
        ]
    )
    assert round(u) == 32
    assert math.floor(dof) == 16
    length = Estimate(value=50_000_838, u=round(u), dof=math.floor(dof))
    # The GUM rounds t99(16) to 2.92 before it multiplies, and prints 93.
    assert length.expanded(coverage=0.99) == pytest.approx(93, abs=0.6)
    assert round(float(stats.t.ppf(0.995, math.floor(dof))), 2) == 2.92


@pytest.mark.source("JCGM 100:2008 (GUM), H.1.3.4 and 4.3.7: limits of ± a, even and cyclic")
def test_type_b() -> None:
    # Expansion coefficients within ± 1e-6 per °C: u = 0.58e-6.
    assert round(from_limits(1.0), 2) == 0.58


@pytest.mark.source("JCGM 100:2008 (GUM), H.3, table H.6 and H.3.3: the thermometer's line")
def test_thermometer_line() -> None:
    line = fit_line(x=[t - 20.0 for t in TEMPERATURE_C], y=CORRECTION_C)
    assert round(line.intercept.value, 4) == -0.1712
    assert round(line.intercept.u, 4) == 0.0029
    assert round(line.slope.value, 5) == 0.00218
    assert round(line.slope.u, 5) == 0.00067
    correlation = line.covariance / (line.intercept.u * line.slope.u)
    assert round(correlation, 3) == -0.930
    assert round(line.residual_sd, 4) == 0.0035
    assert line.residual_dof == 9
    at_30 = line.at(30.0 - 20.0)
    assert round(at_30.value, 4) == -0.1494
    assert round(at_30.u, 4) == 0.0041
    assert at_30.dof == 9
