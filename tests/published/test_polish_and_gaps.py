"""Paired readings and the line of an edge against published worked examples."""

from __future__ import annotations

import math

import pytest

from asfound.measure.gaps import EdgeReading, read_edge
from asfound.measure.polish import PolishSpot, removal_per_pass

HOURS_FIRST = (0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0.0, 2.0)
HOURS_SECOND = (1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4)

TEMPERATURE_C = (21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503)
TEMPERATURE_C += (26.010, 26.511)
CORRECTION_C = (-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159)
CORRECTION_C += (-0.161, -0.160)


@pytest.mark.source("Student, The probable error of a mean, Biometrika 6 (1908), section IX")
@pytest.mark.from_memory
def test_paired_differences_as_student_gave_them() -> None:
    """Ten pairs: mean difference 1.58; t = 4.06 with 9 degrees of freedom.

    A constant of 10 keeps the readings above zero; it cancels in the differences.
    """
    found = removal_per_pass(
        [
            PolishSpot(area="a", spot=str(i), before_um=10 + b, after_um=10 + a, passes_n=1)
            for i, (a, b) in enumerate(zip(HOURS_FIRST, HOURS_SECOND, strict=True))
        ],
        spot_u_um=1e-6,
    )
    rate = found.per_pass_um
    assert round(rate.value, 2) == 1.58
    assert rate.dof == 9
    assert round(rate.value / rate.u, 4) == 4.0621
    # Student divides by n: his 1.17 is the scatter of the differences about their mean.
    assert round(found.scatter_um * math.sqrt(9 / 10), 2) == 1.17
    half = rate.expanded(coverage=0.95)
    assert round(rate.value - half, 3) == 0.700
    assert round(rate.value + half, 3) == 2.460


@pytest.mark.source("JCGM 100:2008 (GUM), H.3, table H.6 and H.3.4: a value predicted by a line")
def test_the_band_of_an_edge_is_that_of_a_calibration_line() -> None:
    """The thermometer's corrections stand in for a flush, its temperatures for the places."""
    rows = [
        EdgeReading(edge="e", along_mm=t, gap_mm=0, flush_mm=b)
        for t, b in zip(TEMPERATURE_C, CORRECTION_C, strict=True)
    ]
    run = read_edge(rows, instrument_u_mm=1e-6).flush
    assert run is not None
    low, high = TEMPERATURE_C[0], TEMPERATURE_C[-1]
    at_30 = run.at((30.0 - low) / (high - low))
    assert round(at_30.value, 4) == -0.1494
    assert round(at_30.u, 4) == 0.0041
    assert at_30.dof == 9
