"""Fade, seams and panels off the car's colour: signs, doubts, refusals."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.stats import maxwell
from tests.unit.measure_colour.readings import at

from asfound.base import Estimate, InputError, NotEnoughEvidenceError
from asfound.measure.colour import (
    THRESHOLDS,
    OffColourModel,
    Viewing,
    difference,
    fade,
    grey_step,
    joined_lr,
    mean_colour,
    off_colour,
    seams,
)

D50 = Viewing(illuminant="D50", observer="2")


def test_fade_keeps_signs_and_parts_add_up() -> None:
    hidden = [at("bonnet", (40, 30 + d, 20), "hidden") for d in (-0.1, 0, 0.1)]
    exposed = [at("bonnet", (44, 25 + d, 18)) for d in (-0.1, 0, 0.1)]
    found = fade([*hidden, *exposed], instrument_u=0.1)
    change = found.change
    assert change.delta_l.value == pytest.approx(4)
    assert change.delta_c.value == pytest.approx(math.hypot(25, 18) - math.hypot(30, 20))
    assert change.delta_h.value > 0
    parts = (change.delta_l, change.delta_c, change.delta_h)
    assert change.delta_e76.value**2 == pytest.approx(sum(p.value**2 for p in parts))
    assert found.told_apart
    assert found.grey.name == "2"
    assert (found.hidden_n, found.exposed_n) == (3, 3)


def test_small_change_is_not_told_apart() -> None:
    pair = [at("bonnet", (40, 30, 20), "hidden"), at("bonnet", (40.1, 30, 20))]
    assert not fade(pair, instrument_u=0.2).told_apart


def test_uncertainty_agrees_with_repeated_measurement() -> None:
    """A stated u of ΔE00 must be the spread that a thousand surveys would show."""
    rng = np.random.default_rng(5)
    first, second, u = np.array([40.0, 30, 20]), np.array([44.0, 26, 22]), 0.15

    def survey(noise: float) -> Estimate:
        one, two = (
            tuple(map(float, c + rng.normal(0, noise, 3))) if noise else tuple(map(float, c))
            for c in (first, second)
        )
        means = [mean_colour([at("door", lab)], instrument_u=u) for lab in (one, two)]  # type: ignore[arg-type]
        return difference(*means).delta_e00

    spread = np.std([survey(u).value for _ in range(1000)])
    assert survey(0).u == pytest.approx(spread, rel=0.08)


def test_equal_colours_have_no_distance_but_doubt() -> None:
    one = mean_colour([at("door", (40, 30, 20))], instrument_u=0.2)
    found = difference(one, one)
    assert found.delta_e00.value == 0
    assert found.delta_e00.u > 0


def test_lights_are_never_mixed() -> None:
    mixed = [at("door", (40, 30, 20)), at("wing", (40, 30, 20), viewing=D50)]
    with pytest.raises(InputError, match="spectra"):
        seams(mixed, neighbours=[("door", "wing")], instrument_u=0.2)
    with pytest.raises(InputError, match="same light"):
        fade([at("door", (40, 30, 20)), at("door", (40, 30, 20), "hidden", D50)], instrument_u=0.2)
    one, two = (mean_colour([r], instrument_u=0.2) for r in mixed)
    with pytest.raises(InputError, match="D50/2"):
        difference(one, two)
    with pytest.raises(InputError, match="settings"):
        Viewing(illuminant="", observer="10")


def test_fade_needs_both_and_one_subject() -> None:
    with pytest.raises(NotEnoughEvidenceError, match="hidden"):
        fade([at("door", (40, 30, 20))], instrument_u=0.2)
    with pytest.raises(InputError, match="one panel"):
        fade([at("door", (40, 30, 20)), at("wing", (40, 30, 20), "hidden")], instrument_u=0.2)


def test_seams_worst_first_and_unread_left_out() -> None:
    rows = [at("wing", (40, 30, 20)), at("door", (40.2, 30, 20)), at("quarter", (43, 30, 20))]
    found = seams(
        rows,
        neighbours=[("wing", "door"), ("door", "quarter"), ("quarter", "lid")],
        instrument_u=0.1,
    )
    assert [(s.first, s.second) for s in found] == [("door", "quarter"), ("wing", "door")]
    assert found[0].grey == grey_step(delta_e76=2.8)
    with pytest.raises(NotEnoughEvidenceError):
        seams(rows, neighbours=[("lid", "wing")], instrument_u=0.1)


def test_one_panel_off_stands_out() -> None:
    rows = [at(f"panel {i}", (40 + 0.1 * i, 30, 20)) for i in range(6)]
    rows.append(at("blown in", (43, 28, 21)))
    found = off_colour(rows, instrument_u=0.1)
    assert found[0].subject == "blown in"
    assert found[0].lr_later_work > 5
    assert all(0.5 <= s.lr_later_work < 1 for s in found[1:])


def test_ratio_is_humble_both_ways() -> None:
    model = OffColourModel(matched_share=0.4, most_lr=15)
    ratios = [model.lr_later_work(Estimate(value=d, u=0.1)) for d in np.linspace(0, 30, 61)]
    assert ratios == sorted(ratios)
    assert 0.4 < ratios[0] < 0.5
    assert ratios[-1] == 15
    doubtful = model.lr_later_work(Estimate(value=2.0, u=5.0))
    assert abs(math.log(doubtful)) < abs(math.log(model.lr_later_work(Estimate(value=2.0, u=0.1))))


@pytest.mark.parametrize("apart", [0.01, 0.3, 1.1, 2.4])
def test_ratio_is_that_of_two_maxwell_densities(apart: float) -> None:
    model = OffColourModel(undisturbed_scale=0.4, later_scale=1.7, matched_share=0.3, most_lr=1e9)
    near, far = maxwell(scale=math.hypot(0.4, 0.2)), maxwell(scale=math.hypot(1.7, 0.2))
    expected = 0.3 + 0.7 * far.pdf(apart) / near.pdf(apart)
    got = model.lr_later_work(Estimate(value=apart, u=0.2))
    assert got == pytest.approx(expected, rel=1e-9)


def test_two_panels_have_no_common_colour() -> None:
    with pytest.raises(NotEnoughEvidenceError, match="three"):
        off_colour([at("door", (40, 30, 20)), at("wing", (41, 30, 20))], instrument_u=0.1)


def test_joining_is_the_product() -> None:
    assert joined_lr(film_lr=8, colour_lr=0.5) == pytest.approx(4)
    with pytest.raises(InputError):
        joined_lr(film_lr=0, colour_lr=1)


def test_every_threshold_names_its_source() -> None:
    assert all(t.source and t.status and t.over < t.up_to for t in THRESHOLDS)


@pytest.mark.parametrize(
    "change", [{"matched_share": 0.0}, {"undisturbed_scale": 2.0}, {"most_lr": 1.0}]
)
def test_model_refuses(change: dict[str, float]) -> None:
    with pytest.raises(InputError):
        OffColourModel(**change)
