"""A gauge's line with many, few and no shims."""

from __future__ import annotations

import pytest

from asfound.base import InputError
from asfound.measure.gauge import GaugeDoubt, gauge_line
from asfound.measure.line import fit_line
from asfound.measure.statistics import mean, standard_deviation

NOMINAL = [0.0, 0.0, 125.0, 125.0, 500.0, 500.0]


def test_a_line_through_shims_corrects_a_reading() -> None:
    line = gauge_line(nominal_um=NOMINAL, read_um=[3.0 + 1.02 * n for n in NOMINAL])
    corrected = line.correct(3.0 + 1.02 * 200.0)
    assert corrected.value == pytest.approx(200.0)
    assert 0.3 < corrected.u < 2.0


def test_scatter_on_shims_becomes_repeatability() -> None:
    read = [n + step for n, step in zip(NOMINAL, [-1, 1] * 3, strict=True)]
    line = gauge_line(nominal_um=NOMINAL, read_um=read)
    assert line.repeatability_um.value == pytest.approx(2**0.5)  # three pairs, each ± 1
    assert line.repeatability_um.dof == 3
    assert line.correct(125.0).u > 2**0.5


def test_one_nominal_tells_an_offset_only() -> None:
    line = gauge_line(nominal_um=[250.0] * 3, read_um=[256.0, 255.0, 257.0])
    assert line.slope.value == 1.0
    assert line.correct(256.0).value == pytest.approx(250.0)
    # The slope is in doubt, so the line is surest at its one shim.
    assert line.line_u_um(250.0) < line.line_u_um(0.0)
    assert line.line_u_um(250.0) < line.line_u_um(600.0)


def test_without_shims_the_gauge_is_taken_at_its_word_with_doubt() -> None:
    doubt = GaugeDoubt(offset_um=3.0, slope=0.04)
    line = gauge_line(nominal_um=[], read_um=[], doubt=doubt)
    assert line.correct(100.0).value == 100.0
    assert line.line_u_um(100.0) == pytest.approx(5.0)  # 3 and 4 at right angles
    assert line.readings_n == 0


def test_shims_that_miss_the_line_widen_its_doubt() -> None:
    straight = gauge_line(nominal_um=NOMINAL, read_um=NOMINAL)
    bent = [0.0, 0.1, 140.0, 140.1, 500.0, 500.1]
    assert gauge_line(nominal_um=NOMINAL, read_um=bent).slope.u > 3 * straight.slope.u


@pytest.mark.parametrize(
    ("x", "y", "u"),
    [
        ([1.0, 1.0, 1.0], [1.0, 2.0, 3.0], None),
        ([1.0, 2.0], [1.0, 2.0], None),
        ([1.0, 2.0, 3.0], [1.0, 2.0], None),
        ([1.0, 2.0, 3.0], [1.0, 2.0, 3.0], [1.0, 0.0, 1.0]),
    ],
)
def test_a_line_is_refused(x: list[float], y: list[float], u: list[float] | None) -> None:
    with pytest.raises(InputError):
        fit_line(x=x, y=y, u=u)


def test_statistics_refuse_rows_that_cannot_answer() -> None:
    with pytest.raises(InputError):
        mean([])
    with pytest.raises(InputError):
        standard_deviation([1.0])
    with pytest.raises(InputError):
        mean([1.0, float("nan")])
