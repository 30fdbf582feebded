"""Plain statistics and the straight line against the NIST reference data sets (public domain)."""

from __future__ import annotations

import pytest

from asfound.measure.line import fit_line
from asfound.measure.statistics import mean, standard_deviation

MAVRO = """
2.00180  2.00170  2.00180  2.00190  2.00180  2.00170  2.00150  2.00140  2.00150  2.00150
2.00170  2.00180  2.00180  2.00190  2.00190  2.00210  2.00200  2.00160  2.00140  2.00130
2.00130  2.00150  2.00150  2.00160  2.00150  2.00140  2.00130  2.00140  2.00150  2.00140
2.00150  2.00160  2.00150  2.00160  2.00190  2.00200  2.00200  2.00210  2.00220  2.00230
2.00240  2.00250  2.00270  2.00260  2.00260  2.00260  2.00270  2.00260  2.00250  2.00240
"""
MICHELSON = """
299.85  299.74  299.90  300.07  299.93  299.85  299.95  299.98  299.98  299.88  300.00
299.98  299.93  299.65  299.76  299.81  300.00  300.00  299.96  299.96  299.96  299.94
299.96  299.94  299.88  299.80  299.85  299.88  299.90  299.84  299.83  299.79  299.81
299.88  299.88  299.83  299.80  299.79  299.76  299.80  299.88  299.88  299.88  299.86
299.72  299.72  299.62  299.86  299.97  299.95  299.88  299.91  299.85  299.87  299.84
299.84  299.85  299.84  299.84  299.84  299.89  299.81  299.81  299.82  299.80  299.77
299.76  299.74  299.75  299.76  299.91  299.92  299.89  299.86  299.88  299.72  299.84
299.85  299.85  299.78  299.89  299.84  299.78  299.81  299.76  299.81  299.79  299.81
299.82  299.85  299.87  299.87  299.81  299.74  299.81  299.94  299.95  299.80  299.81
299.87
"""
ACCURACY_1 = "10000001 10000003 10000002"


def numbers(text: str) -> list[float]:
    return [float(word) for word in text.split()]


def accuracy(start: float) -> list[float]:
    """NumAcc2 to 4: one value, then 1,000 that swing 0.1 below and above it."""
    return [start, *([start - 0.1, start + 0.1] * 500)]


@pytest.mark.source("NIST Statistical Reference Datasets, univariate summary statistics")
@pytest.mark.parametrize(
    ("values", "certified_mean", "certified_sd", "sd_tolerance"),
    [
        (numbers(MAVRO), 2.001856, 0.000429123454003053, 1e-12),
        (numbers(MICHELSON), 299.8524, 0.0790105478190518, 1e-12),
        (numbers(ACCURACY_1), 10000002, 1, 1e-13),
        (accuracy(1.2), 1.2, 0.1, 1e-12),
        # From here the data cannot be held exactly in binary: the tenth loses its last digits.
        (accuracy(1000000.2), 1000000.2, 0.1, 1e-9),
        (accuracy(10000000.2), 10000000.2, 0.1, 1e-7),
    ],
    ids=["Mavro", "Michelson", "NumAcc1", "NumAcc2", "NumAcc3", "NumAcc4"],
)
def test_univariate(
    values: list[float],
    certified_mean: float,
    certified_sd: float,
    sd_tolerance: float,
) -> None:
    assert mean(values) == pytest.approx(certified_mean, rel=1e-13)
    assert standard_deviation(values) == pytest.approx(certified_sd, rel=sd_tolerance)


NORRIS_X = """
0.2 337.4 118.2 884.6 10.1 226.5 666.3 996.3 448.6 777.0 558.2 0.4 0.6 775.5 666.9 338.0
447.5 11.6 556.0 228.1 995.8 887.6 120.2 0.3 0.3 556.8 339.1 887.2 999.0 779.0 11.1 118.3
229.2 669.1 448.9 0.5
"""
NORRIS_Y = """
0.1 338.8 118.1 888.0 9.2 228.1 668.5 998.5 449.1 778.9 559.2 0.3 0.1 778.1 668.8 339.3
448.9 10.8 557.7 228.3 998.0 888.8 119.6 0.3 0.6 557.6 339.3 888.0 998.5 778.9 10.2 117.6
228.9 668.4 449.2 0.2
"""


@pytest.mark.source("NIST Statistical Reference Datasets, linear regression, Norris")
def test_norris_line() -> None:
    line = fit_line(x=numbers(NORRIS_X), y=numbers(NORRIS_Y))
    assert line.intercept.value == pytest.approx(-0.262323073774029, rel=1e-11)
    assert line.slope.value == pytest.approx(1.00211681802045, rel=1e-13)
    assert line.residual_sd == pytest.approx(0.884796396144373, rel=1e-12)
    assert line.residual_dof == 34
