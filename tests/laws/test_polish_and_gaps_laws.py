"""Laws of polishing and gaps: order, units, offsets, and what more doubt may do."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from asfound.base import Estimate
from asfound.measure.gaps import EdgeGround, EdgeReading, GapSurvey, mirror, read_edge, read_gaps
from asfound.measure.polish import (
    Floor,
    PanelFloor,
    PolishReading,
    PolishSurvey,
    Removal,
    passes_left,
    read_polish,
)

TAKEN = st.lists(st.floats(2, 12), min_size=3, max_size=9)


def survey(taken_um: list[float], *, offset_um: float = 0.0) -> PolishSurvey:
    return PolishSurvey(
        readings=tuple(
            PolishReading(
                panel="bonnet",
                area="",
                spot=f"s{i}",
                before_um=200 + 3 * i + offset_um,
                after_um=200 + 3 * i - taken + offset_um,
                passes_n=1 + i % 3,
                day="2026-01-01",
            )
            for i, taken in enumerate(taken_um)
        ),
        floors=(PanelFloor(panel="bonnet", floor=Floor(area="", film_um=150, basis="guess")),),
    )


@settings(deadline=None, max_examples=40)
@given(taken_um=TAKEN, data=st.data())
def test_the_order_of_the_spots_does_not_matter(taken_um: list[float], data: st.DataObject) -> None:
    one = survey(taken_um)
    mixed = data.draw(st.permutations(one.readings))
    found, again = read_polish(one), read_polish(replace(one, readings=tuple(mixed)))
    rate, other = (f.removals[0].removal.per_pass_um for f in (found, again))
    assert rate.value == pytest.approx(other.value)
    assert rate.u == pytest.approx(other.u)
    assert [s.present.spot for s in found.areas[0].spots] == [
        s.present.spot for s in again.areas[0].spots
    ]


@settings(deadline=None, max_examples=40)
@given(taken_um=TAKEN, offset_um=st.floats(0, 80))
def test_a_constant_on_both_readings_leaves_what_a_pass_takes(
    taken_um: list[float], offset_um: float
) -> None:
    plain = read_polish(survey(taken_um)).removals[0].removal.per_pass_um
    moved = read_polish(survey(taken_um, offset_um=offset_um)).removals[0].removal.per_pass_um
    assert moved.value == pytest.approx(plain.value, abs=1e-9)


@settings(deadline=None, max_examples=60)
@given(
    over_um=st.floats(-20, 120),
    film_u=st.floats(0.5, 10),
    rate=st.floats(0.5, 8),
    rate_u=st.floats(0.01, 0.2),
    scatter=st.floats(0.1, 3),
    asked=st.floats(0.5, 0.999),
)
def test_the_passes_given_hold_and_one_more_does_not(
    over_um: float, film_u: float, rate: float, rate_u: float, scatter: float, asked: float
) -> None:
    """Found by halving, held against counting up one by one."""
    removal = Removal(per_pass_um=Estimate(value=rate, u=rate_u), scatter_um=scatter, spots_n=6)
    film = {"s": Estimate(value=150 + over_um, u=film_u)}
    floor = Floor(area="", film_um=150, basis="measured")
    over_um = film["s"].value - floor.film_um  # the sum is rounded: a tie must stay a tie
    found = passes_left(film, floor=floor, removal=removal, stay_probability=asked)

    def stays(k: int) -> float:
        u = (film_u**2 + (k * rate_u) ** 2 + k * scatter**2) ** 0.5
        return float(stats.norm.cdf((over_um - k * rate) / u))

    counted = 0
    while stays(counted + 1) >= asked:
        counted += 1
    assert found.passes_n == counted


GAPS = st.lists(st.floats(0, 12), min_size=2, max_size=8)


def rows(gaps_mm: list[float], *, scale: float = 1.0) -> list[EdgeReading]:
    return [
        EdgeReading(edge="lid", along_mm=scale * 100 * i, gap_mm=scale * gap)
        for i, gap in enumerate(gaps_mm)
    ]


@settings(deadline=None, max_examples=60)
@given(gaps_mm=GAPS, scale=st.floats(0.1, 20))
def test_another_unit_scales_everything(gaps_mm: list[float], scale: float) -> None:
    one = read_edge(rows(gaps_mm), instrument_u_mm=0.1).gap
    other = read_edge(rows(gaps_mm, scale=scale), instrument_u_mm=0.1 * scale).gap
    for plain, scaled in ((one.middle_mm, other.middle_mm), (one.run_out_mm, other.run_out_mm)):
        assert scaled.value == pytest.approx(scale * plain.value, abs=1e-6)
        assert scaled.u == pytest.approx(scale * plain.u, rel=1e-6)


@settings(deadline=None, max_examples=60)
@given(gaps_mm=GAPS)
def test_an_edge_mirrors_itself(gaps_mm: list[float]) -> None:
    fit = read_edge(rows(gaps_mm), instrument_u_mm=0.1)
    pair = mirror(left=fit, right=fit)
    assert pair.gap_middle.difference_mm.value == 0
    assert pair.gap_middle.p == pytest.approx(1)


@settings(deadline=None, max_examples=60)
@given(gaps_mm=GAPS, u_mm=st.floats(0.05, 0.5), more=st.floats(1, 5))
def test_a_worse_instrument_never_turns_one_verdict_into_its_opposite(
    gaps_mm: list[float], u_mm: float, more: float
) -> None:
    def stands(u: float) -> list[str]:
        survey = GapSurvey(
            edges=(EdgeGround(edge="lid", least_mm=3, most_mm=6),),
            readings=tuple(rows(gaps_mm)),
            instrument_u_mm={"lid": u},
        )
        return [a.stand for a in read_gaps(survey).edges[0].against]

    for sure, unsure in zip(stands(u_mm), stands(u_mm * more), strict=True):
        assert "cannot be told" in (sure, unsure) or sure == unsure
