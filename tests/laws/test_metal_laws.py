"""Laws of sheet metal: order, shifts of time, splitting a climate, and error that only shortens."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from asfound.measure.metal import (
    CarMetal,
    ClimatePeriod,
    MetalReading,
    MetalSubject,
    MetalSurvey,
    bare_loss,
    nominal_in_mm,
    read_metal,
)

thickness = st.floats(0.2, 1.4)
readings = st.lists(
    st.tuples(st.integers(0, 5), thickness, st.integers(1990, 2025)), min_size=1, max_size=12
)


def read(
    rows: list[tuple[int, float, int]],
    *,
    u_mm: float = 0.02,
    later: float = 0.0,
    least: float = 0.3,
) -> CarMetal:
    """Places lie 100 mm apart, so that no order of the readings can join two of them."""
    subject = MetalSubject(
        subject="sill",
        kind="panel",
        readings=tuple(
            MetalReading(x_mm=100 * x, y_mm=0, thickness_mm=t, u_mm=u_mm, year=year + later)
            for x, t, year in rows
        ),
        nominal=nominal_in_mm(1.0),
        tolerance_mm=0.05,
        least_mm=least,
    )
    return read_metal(MetalSurvey(subjects=(subject,), built_year=1957.5 + later))


@given(rows=readings, seed=st.randoms())
def test_the_order_of_readings_does_not_matter(rows: list[tuple[int, float, int]], seed) -> None:
    shuffled = rows[:]
    seed.shuffle(shuffled)
    one, other = read(rows).subjects[0], read(shuffled).subjects[0]
    assert one.left_mm.value == pytest.approx(other.left_mm.value)
    assert one.thinnest_mm.value == pytest.approx(other.thinnest_mm.value)
    assert one.life is not None
    assert other.life is not None
    assert one.life.life.years == pytest.approx(other.life.life.years)


@given(rows=readings, later=st.integers(-40, 40))
def test_the_calendar_does_not_matter(rows: list[tuple[int, float, int]], later: int) -> None:
    here, there = read(rows).subjects[0].life, read(rows, later=later).subjects[0].life
    assert here is not None
    assert there is not None
    assert here.life.years == pytest.approx(there.life.years)


@given(rows=readings, more=st.floats(0.001, 0.2))
def test_more_doubt_tells_no_more_and_lets_nothing_last_longer(
    rows: list[tuple[int, float, int]], more: float
) -> None:
    sure, unsure = read(rows).subjects[0], read(rows, u_mm=0.02 + more).subjects[0]
    assert sure.loss is not None
    assert unsure.loss is not None
    assert sure.loss.told_apart or not unsure.loss.told_apart
    assert sure.life is not None
    assert unsure.life is not None
    assert unsure.life.years_low <= sure.life.years_low
    assert sure.life.years_low <= sure.life.life.years


@given(rows=readings, most=st.floats(0.0, 0.29))
def test_a_lower_floor_never_shortens_a_life(
    rows: list[tuple[int, float, int]], most: float
) -> None:
    high, low = read(rows).subjects[0].life, read(rows, least=most).subjects[0].life
    assert high is not None
    assert low is not None
    assert low.life.years >= high.life.years


@given(
    um=st.floats(0.1, 700),
    years=st.floats(1, 90),
    cuts=st.lists(st.floats(0.01, 0.99), max_size=5),
)
def test_a_climate_may_be_written_in_pieces(um: float, years: float, cuts: list[float]) -> None:
    ends = sorted({0.0, 1.0, *cuts})
    pieces = [
        ClimatePeriod(
            since_year=1900 + years * since,
            until_year=1900 + years * until,
            category="C3",
            low_um_a=um,
            high_um_a=um,
        )
        for since, until in pairwise(ends)
        if years * until - years * since > 1e-6
    ]
    whole = ClimatePeriod(
        since_year=1900, until_year=1900 + years, category="C3", low_um_a=um, high_um_a=um
    )
    assert math.isclose(bare_loss(pieces).low_um, bare_loss([whole]).low_um, rel_tol=1e-3)
