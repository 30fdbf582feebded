"""A folder's colour tables become core types, thresholds speak, film and colour join."""

from __future__ import annotations

import pytest

from asfound.base import Estimate
from asfound.measure.colour import THRESHOLDS, CarColour, ColourDifference
from asfound.measure.film import read_film
from asfound.record.convert.colour import (
    ASSUMED_U,
    colour_survey,
    instrument_doubt,
    thresholds_of,
    viewing_of,
)
from asfound.record.convert.film import film_survey
from asfound.record.convert.neighbours import neighbours_of
from asfound.record.derived import colour_reading
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Sheet
from asfound.record.results.colour_words import both_signs, both_words, judged, lr_figure, lr_words

PANELS = ("bonnet", "door", "wing", "lid")
HEAD = (
    "panel",
    "part",
    "x_mm",
    "y_mm",
    "L",
    "a",
    "b",
    "exposure",
    "illuminant",
    "observer",
    "instrument",
)


def reading(panel: str, lab: str = "45 -13 18", exposure: str = "exposed", **more: str) -> tuple:
    light = more.get("illuminant", "D65")
    place = (panel, more.get("part", ""), "100", "100")
    return (*place, *lab.split(), exposure, light, "10°", more.get("instrument", "meter"))


def folder(*rows: tuple, **sheets: Sheet) -> CarFolder:
    box = "POLYGON ((0 0, 500 0, 500 400, 0 400, 0 0))"
    panels = Sheet(
        columns=("panel", "section", "substrate", "outline_wkt", "placement"),
        rows=tuple((name, "s", "steel", box, f"{i * 510} 0 0") for i, name in enumerate(PANELS)),
    )
    return CarFolder(sheets={"panels": panels, "colour": Sheet(columns=HEAD, rows=rows), **sheets})


def change(e00: float, e76: float) -> ColourDifference:
    zero = Estimate(value=0.0, u=0.1)
    return ColourDifference(
        delta_e00=Estimate(value=e00, u=0.1),
        delta_e76=Estimate(value=e76, u=0.1),
        delta_l=zero,
        delta_c=zero,
        delta_h=zero,
    )


def test_a_car_without_colour_says_which_table_it_needs() -> None:
    with pytest.raises(InputFaultsError, match=r"colour\.csv"):
        colour_survey(folder())


def test_light_and_observer_have_one_spelling() -> None:
    assert viewing_of("d65 ", "10°") == viewing_of("D65", "10") == viewing_of("D65", "10 degrees")
    assert not viewing_of("", "10").is_stated
    assert not viewing_of("D65", "").is_stated


def test_parts_are_subjects_and_not_panels() -> None:
    survey = colour_survey(folder(reading("door"), reading("", part="seat")))
    assert [r.subject for r in survey.readings] == ["door", "seat"]
    assert survey.panels == {"door"}


def test_the_largest_doubt_counts_and_a_guess_is_called_one() -> None:
    known = Sheet(
        columns=("instrument", "kind", "u", "unit", "source"),
        rows=(
            ("meter", "colour", "0.1", "CIELAB", "its certificate"),
            ("old meter", "colour", "0.2", "CIELAB", "a repeat of ten"),
            ("gauge", "gap", "0.9", "mm", "maker"),
        ),
    )
    two = folder(reading("door"), reading("wing", instrument="old meter"), instruments=known)
    assert instrument_doubt(two).u == 0.2
    assert "a repeat of ten" in instrument_doubt(two).source
    stranger = folder(reading("door", instrument=""), instruments=known)
    assert instrument_doubt(stranger).u == ASSUMED_U
    assert "guess" in instrument_doubt(stranger).source


def test_neighbours_are_proposed_by_the_sheet_until_someone_writes_them() -> None:
    proposed = neighbours_of(folder(reading("door")))
    assert proposed.proposed
    assert proposed.pairs == (("bonnet", "door"), ("door", "wing"), ("wing", "lid"))
    table = Sheet(columns=("panel", "other_panel"), rows=(("bonnet", "lid"),))
    written = neighbours_of(folder(reading("door"), neighbours=table))
    assert (written.pairs, written.proposed) == ((("bonnet", "lid"),), False)


def test_corners_that_touch_are_no_neighbours() -> None:
    box = "POLYGON ((0 0, 500 0, 500 400, 0 400, 0 0))"
    panels = Sheet(
        columns=("panel", "section", "substrate", "outline_wkt", "placement"),
        rows=(
            ("a", "s", "steel", box, "0 0 0"),
            ("b", "s", "steel", box, "505 405 0"),
            ("c", "s", "steel", box, ""),
            ("d", "s", "steel", box, "somewhere else"),
        ),
    )
    assert neighbours_of(CarFolder(sheets={"panels": panels})).pairs == ()


def test_the_cars_own_thresholds_take_the_place_of_those_supplied() -> None:
    assert thresholds_of(folder()) == THRESHOLDS
    own = Sheet(
        columns=("measure", "over", "up_to", "meaning", "field", "source", "status"),
        rows=(("ΔE00", "0", "0.7", "passes here", "this workshop", "agreed in 2026", ""),),
    )
    (row,) = thresholds_of(folder(colour_thresholds=own))
    assert (row.meaning, row.up_to, row.status) == ("passes here", 0.7, "not stated")


def test_each_source_speaks_in_the_distance_that_it_means() -> None:
    said = {
        (j.threshold.measure, j.threshold.field): j for j in judged(change(0.7, 1.3), THRESHOLDS)
    }
    assert said["not stated", "new vehicles"].says == "barely perceptible"
    assert said["ΔE00", "dental materials"].says == "acceptable"
    beyond = said["ΔE76", "dental materials"]
    assert (beyond.says, beyond.is_within) == ("more than not perceptible", False)
    assert said["ΔE76", "museum objects in light"].is_within


def test_no_difference_at_all_falls_into_the_first_band() -> None:
    assert all(j.is_within for j in judged(change(0.0, 0.0), THRESHOLDS))


def film(*panels: str) -> Sheet:
    rows = [
        (panel, f"{panel} {i}", f"{80 + 110 * (i % 4)}", f"{100 + 180 * (i // 4)}", f"{level + i}")
        for panel in panels
        for level in [470 if panel != "wing" else 720]
        for i in range(8)
    ]
    return Sheet(columns=("panel", "spot", "x_mm", "y_mm", "thickness_um"), rows=tuple(rows))


def joined(car: CarFolder) -> dict:
    return {s.panel: s for s in both_signs(read_film(film_survey(car)), _colour(car))}


def _colour(car: CarFolder) -> CarColour:
    return colour_reading(car)


def test_film_and_colour_are_multiplied_where_both_spoke() -> None:
    rows = [reading(name, "45 -13 18" if name != "wing" else "46.5 -11 20") for name in PANELS]
    both = joined(folder(*rows, film=film("bonnet", "door", "wing")))
    assert list(both) == ["bonnet", "door", "wing"]
    wing = both["wing"]
    assert wing.joint_lr == pytest.approx(wing.film_lr * wing.colour_lr)
    assert 2 < wing.colour_lr <= 20
    for signs in both.values():
        assert "original" not in both_words(signs)
        assert both_words(signs).count("later work") + both_words(signs).count("undisturbed") >= 2


def test_what_the_sun_may_explain_is_not_multiplied() -> None:
    rows = [reading(name, "45 -13 18" if name != "wing" else "46.5 -11 20") for name in PANELS]
    hidden = reading("wing", "43.5 -15 17", "hidden")
    wing = joined(folder(*rows, hidden, film=film("bonnet", "door", "wing")))["wing"]
    assert wing.joint_lr is None
    assert "not taken together: its own fade may explain the colour" in both_words(wing)


@pytest.mark.parametrize(
    ("lr", "figure", "words"),
    [
        (1.0, "1", "neither for nor against later work"),
        (14.0, "14", "moderate support for later work"),
        (0.2, "1/5", "weak support for undisturbed since built"),
        (5e8, "over 1 000 000", "extremely strong support for later work"),
    ],
)
def test_a_ratio_in_figures_and_words(lr: float, figure: str, words: str) -> None:
    assert lr_figure(lr).replace("\N{NARROW NO-BREAK SPACE}", " ") == figure
    assert lr_words(lr) == words
