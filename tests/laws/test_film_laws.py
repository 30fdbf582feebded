"""Laws of the film reading: what must not matter does not, what must be bounded is."""

from __future__ import annotations

import random

import numpy as np
import pytest
from benchmarks.cars import make_car
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import affinity

from asfound.measure.budget import Component, combine
from asfound.measure.film import (
    FilmReading,
    FilmSurvey,
    Panel,
    Reading,
    ShimReading,
    read_film,
)
from asfound.measure.gauge import gauge_line
from asfound.measure.line import fit_line

few = settings(max_examples=6, deadline=None, derandomize=True)


def answers(reading: FilmReading) -> list[float]:
    spots = [s.p_later_work for p in reading.panels for s in p.spots]
    return [*spots, *(p.p_later_work for p in reading.panels)]


@few
@given(seed=st.integers(0, 10_000), shuffle=st.randoms(use_true_random=False))
def test_the_order_of_rows_does_not_matter(seed: int, shuffle: random.Random) -> None:
    survey = make_car(seed, panels_n=4).survey
    mixed = FilmSurvey(
        panels=tuple(shuffle.sample(survey.panels, len(survey.panels))),
        readings=tuple(shuffle.sample(survey.readings, len(survey.readings))),
        shims=tuple(shuffle.sample(survey.shims, len(survey.shims))),
    )
    one, other = read_film(survey), read_film(mixed)
    assert answers(one) == answers(other)
    assert one.next_spots == other.next_spots
    assert one.level_um == other.level_um


@few
@given(seed=st.integers(0, 10_000))
@example(seed=1887)  # bands that reach one half in one piece only
def test_everything_told_is_within_its_bounds(seed: int) -> None:
    survey = make_car(seed, panels_n=4, touched=0.5).survey
    outlines = {p.panel: p.outline for p in survey.panels}
    reading = read_film(survey, seed=seed)
    assert all(0 <= p <= 1 for p in answers(reading))
    for panel in reading.panels:
        assert all(0 <= p <= 1 for p in panel.kinds.values())
        assert 1e-9 <= panel.lr_later_work <= 1e9
        assert panel.p_later_work >= max(s.p_later_work for s in panel.spots)
        for area in panel.areas:
            assert area.outline.is_valid
            assert area.outline.difference(outlines[panel.panel].buffer(1e-6)).is_empty
            assert 0.5 < area.probability <= 1
        inside = np.isfinite(panel.surface.film_um)
        assert inside.any()
        assert (panel.surface.u_um[inside] > 0).all()
        assert np.isfinite(panel.surface.p_later_work).sum() == inside.sum()
    gains = [spot.gain_bits for spot in reading.next_spots]
    assert len(gains) == 8
    assert all(gain >= 0 for gain in gains)


@few
@given(seed=st.integers(0, 10_000), right=st.floats(-2000, 2000), up=st.floats(-2000, 2000))
def test_where_the_sheet_s_origin_lies_does_not_matter(seed: int, right: float, up: float) -> None:
    survey = make_car(seed, panels_n=3).survey
    moved = FilmSurvey(
        panels=tuple(
            Panel(
                panel=p.panel,
                outline=affinity.translate(p.outline, right, up),
                substrate=p.substrate,
            )
            for p in survey.panels
        ),
        readings=tuple(
            Reading(
                panel=r.panel,
                spot=r.spot,
                x_mm=r.x_mm + right,
                y_mm=r.y_mm + up,
                thickness_um=r.thickness_um,
                gauge=r.gauge,
            )
            for r in survey.readings
        ),
        shims=survey.shims,
    )
    one, other = read_film(survey).level_um, read_film(moved).level_um
    assert other.value == pytest.approx(one.value, rel=1e-3)


@few
@given(seed=st.integers(0, 10_000), offset=st.floats(-8, 8), slope=st.floats(0.9, 1.1))
def test_a_gauge_s_own_line_does_not_matter_once_shims_tell_it(
    seed: int, offset: float, slope: float
) -> None:
    car = make_car(seed, panels_n=3)
    straight = tuple(ShimReading(nominal_um=n, read_um=n) for n in (0.0, 250.0, 1000.0) * 2)
    plain = FilmSurvey(
        panels=car.survey.panels,
        readings=tuple(
            Reading(
                panel=r.panel, spot=r.spot, x_mm=r.x_mm, y_mm=r.y_mm, thickness_um=r.thickness_um
            )
            for r in car.survey.readings
        ),
        shims=straight,
    )
    bent = FilmSurvey(
        panels=plain.panels,
        readings=tuple(
            Reading(
                panel=r.panel,
                spot=r.spot,
                x_mm=r.x_mm,
                y_mm=r.y_mm,
                thickness_um=offset + slope * r.thickness_um,
            )
            for r in plain.readings
        ),
        shims=tuple(
            ShimReading(nominal_um=s.nominal_um, read_um=offset + slope * s.nominal_um)
            for s in straight
        ),
    )
    one, other = read_film(plain), read_film(bent)
    assert other.level_um.value == pytest.approx(one.level_um.value, rel=1e-6)
    for a, b in zip(one.panels, other.panels, strict=True):
        np.testing.assert_allclose(
            [s.thickness_um for s in b.spots], [s.thickness_um for s in a.spots], rtol=1e-6
        )


@given(
    x=st.lists(st.floats(0, 1000), min_size=3, max_size=12, unique=True),
    intercept=st.floats(-10, 10),
    slope=st.floats(0.5, 2),
)
@settings(deadline=None)
def test_a_line_gives_back_the_line_its_points_lie_on(
    x: list[float], intercept: float, slope: float
) -> None:
    if max(x) - min(x) < 1:
        return
    line = fit_line(x=x, y=[intercept + slope * v for v in x])
    assert line.slope.value == pytest.approx(slope, abs=1e-6)
    assert line.at(max(x)).value == pytest.approx(intercept + slope * max(x), abs=1e-6)


@given(repeats=st.integers(1, 8))
def test_more_readings_on_shims_never_make_the_line_worse(repeats: int) -> None:
    nominal = [0.0, 125.0, 500.0]
    fewer = gauge_line(nominal_um=nominal * repeats, read_um=nominal * repeats)
    more = gauge_line(nominal_um=nominal * (repeats + 1), read_um=nominal * (repeats + 1))
    assert more.slope.u <= fewer.slope.u * (1 + 1e-12)
    assert more.offset_um.u <= fewer.offset_um.u * (1 + 1e-12)


@given(u=st.lists(st.floats(0.01, 10), min_size=1, max_size=6), dof=st.integers(1, 50))
def test_effective_freedom_lies_between_the_least_and_the_sum(u: list[float], dof: int) -> None:
    _, effective = combine([Component(u=part, dof=dof) for part in u])
    assert dof * (1 - 1e-9) <= effective <= dof * len(u) * (1 + 1e-9)


def test_another_undisturbed_panel_sharpens_the_level() -> None:
    survey = make_car(11, level_um=200.0, touched=0.0, panels_n=8).survey
    names = [p.panel for p in survey.panels]
    doubts = []
    for count in (2, 8):
        kept = set(names[:count])
        part = FilmSurvey(
            panels=tuple(p for p in survey.panels if p.panel in kept),
            readings=tuple(r for r in survey.readings if r.panel in kept),
            shims=survey.shims,
        )
        doubts.append(read_film(part).level_um.u)
    assert doubts[1] < doubts[0]


def test_the_seed_alone_decides_the_draws() -> None:
    survey = make_car(5, panels_n=3, touched=0.5).survey
    assert answers(read_film(survey, seed=4)) == answers(read_film(survey, seed=4))
