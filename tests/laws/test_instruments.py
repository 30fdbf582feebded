"""Laws of metal, colour, gaps, polish and the base: scaling, order, symmetry, more data."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from asfound.base import Estimate
from asfound.measure.base_of_films import CarBuild, expected_film
from asfound.measure.colour import grey_step, joined_lr
from asfound.measure.colour.difference import delta_c, delta_e00, delta_e76, delta_h
from asfound.measure.gaps import EdgeReading, read_edge
from asfound.measure.metal import ThicknessOnDate, category_of_rate, depth_after, remaining_life
from asfound.measure.polish import Floor, Removal, passes_left

labs = st.tuples(st.floats(0, 100), st.floats(-80, 80), st.floats(-80, 80))
thicknesses = st.floats(0.3, 3.0)


@settings(deadline=None)
@given(first=labs, second=labs)
def test_distance_is_symmetric_and_its_parts_add_up(
    first: tuple[float, float, float], second: tuple[float, float, float]
) -> None:
    assert delta_e76(first, second) == delta_e76(second, first)
    parts = (second[0] - first[0], delta_c(first, second), delta_h(first, second))
    assert math.hypot(*parts) == pytest.approx(delta_e76(first, second), abs=1e-9)
    assert delta_e00(first, first) == 0
    assert delta_e00(first, second) >= 0


@settings(deadline=None)
@given(one=st.floats(0, 40), two=st.floats(0, 40))
def test_a_larger_difference_never_gets_a_better_grey_step(one: float, two: float) -> None:
    small, large = sorted((one, two))
    assert grey_step(delta_e76=small).delta_e76 <= grey_step(delta_e76=large).delta_e76


@settings(deadline=None)
@given(film=st.floats(1e-6, 1e6), colour=st.floats(1e-3, 1e3))
def test_a_neutral_colour_leaves_the_film_alone(film: float, colour: float) -> None:
    assert joined_lr(film_lr=film, colour_lr=1.0) == film
    assert joined_lr(film_lr=film, colour_lr=colour) == joined_lr(film_lr=colour, colour_lr=film)


@settings(deadline=None)
@given(rate=st.floats(0, 700), one=st.floats(0, 80), two=st.floats(0, 80))
def test_loss_grows_with_time_and_less_than_in_proportion(
    rate: float, one: float, two: float
) -> None:
    short, long = sorted((one, two))
    near, far = (depth_after(years=t, first_year_um_a=rate) for t in (short, long))
    assert near <= far * (1 + 1e-12)
    if short >= 1:
        assert far * short <= near * long * (1 + 1e-9)


@settings(deadline=None)
@given(rate=st.floats(0, 700))
def test_every_rate_lies_in_its_category(rate: float) -> None:
    category = category_of_rate(first_year_um_a=rate)
    assert rate <= category.to_um_a
    assert rate > category.over_um_a or category.name == "C1"


@settings(deadline=None)
@given(a=thicknesses, b=thicknesses, c=thicknesses, scale=st.floats(0.1, 10))
def test_life_does_not_depend_on_the_unit_of_thickness(
    a: float, b: float, c: float, scale: float
) -> None:
    def life(factor: float) -> float:
        seen = [
            ThicknessOnDate(year=y, thickness_mm=t * factor)
            for y, t in zip((0, 10, 14), (a, b, c), strict=True)
        ]
        return remaining_life(seen, least_thickness_mm=0.2 * factor).years

    if max(a - c, b - c) > 1e-6:
        assert life(scale) == pytest.approx(life(1.0), rel=1e-6)


@settings(deadline=None)
@given(
    gaps=st.lists(st.floats(2, 8), min_size=3, max_size=8),
    shift=st.floats(-500, 500),
)
def test_an_edge_read_from_another_zero_or_in_another_order_is_the_same(
    gaps: list[float], shift: float
) -> None:
    def fit(start: float, step: int) -> tuple[float, float]:
        rows = [
            EdgeReading(edge="lid", along_mm=start + 100 * i, gap_mm=g) for i, g in enumerate(gaps)
        ]
        found = read_edge(rows[::step], instrument_u_mm=0.1).gap
        return found.middle_mm.value, found.run_out_mm.value

    assert fit(shift, -1) == pytest.approx(fit(0.0, 1), abs=1e-6)


@settings(deadline=None)
@given(
    film=st.floats(80, 300),
    u=st.floats(0.5, 5),
    rate=st.floats(1, 6),
    asked=st.floats(0.5, 0.99),
)
def test_passes_keep_what_was_asked_and_a_higher_floor_never_gives_more(
    film: float, u: float, rate: float, asked: float
) -> None:
    def left(floor_um: float) -> tuple[int, float]:
        found = passes_left(
            {"s": Estimate(value=film, u=u)},
            floor=Floor(area="lid", film_um=floor_um, basis="measured"),
            removal=Removal(
                per_pass_um=Estimate(value=rate, u=rate / 8), scatter_um=rate / 3, spots_n=9
            ),
            stay_probability=asked,
        )
        return found.passes_n, found.stay_probability

    low, high = left(80), left(100)
    assert low[0] >= high[0]
    assert low[0] == 0 or low[1] >= asked


@settings(max_examples=15, deadline=None)
@given(
    levels=st.lists(st.floats(60, 650), min_size=1, max_size=6),
    scale=st.floats(0.8, 1.25),
)
def test_the_base_follows_its_cars(levels: list[float], scale: float) -> None:
    def expect(factor: float) -> float:
        base = [
            CarBuild(car=str(i), kind="saloon", year=1965, level_um=v * factor, u_log=0.05)
            for i, v in enumerate(levels)
        ]
        return expected_film(base, kind="saloon", year=1965).level_um

    if scale > 1.05:
        assert expect(scale) > expect(1.0) > 0
    lone = expected_film([], kind="saloon", year=1965).level_um
    assert min(*levels, lone) - 1e-6 <= expect(1.0) <= max(*levels, lone) + 1e-6
