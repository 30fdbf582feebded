"""A whole car's colour: groups by light, what each cannot tell, paints apart, the sun's share."""

from __future__ import annotations

import pytest
from tests.unit.measure_colour.readings import D65, GREEN, at

from asfound.base import NotEnoughEvidenceError
from asfound.measure.colour import (
    NOT_STATED,
    CarColour,
    ColourReading,
    ColourSurvey,
    Viewing,
    read_colour,
)

UNSTATED = Viewing(illuminant=NOT_STATED, observer=NOT_STATED)


def read(*readings: ColourReading, pairs: tuple[tuple[str, str], ...] = ()) -> CarColour:
    names = {r.subject for r in readings} - {"seat"}
    return read_colour(
        ColourSurvey(readings=readings, panels=frozenset(names), neighbours=pairs, instrument_u=0.1)
    )


def four(**odd: tuple[float, float, float]) -> list[ColourReading]:
    names = ("bonnet", "door", "wing", "lid")
    return [at(name, odd.get(name, GREEN)) for name in names]


def test_lights_are_read_apart_and_those_not_stated_come_last() -> None:
    loose = [at(f"p{i}", viewing=UNSTATED) for i in range(6)]
    car = read(*loose, *four())
    assert [(g.viewing, g.readings_n) for g in car.groups] == [(D65, 4), (UNSTATED, 6)]
    assert not car.groups[1].viewing.is_stated
    assert {s.sign.subject for s in car.groups[1].signs} == {f"p{i}" for i in range(6)}


def test_what_a_group_cannot_tell_is_a_sentence_of_it() -> None:
    (group,) = read(at("door"), at("wing", exposure="hidden"), at("seat")).groups
    assert (group.fades, group.seams, group.signs) == ((), (), ())
    told = " ".join(group.unsaid)
    for words in ("no fade can be told", "no seam can be compared", "One panel alone was read"):
        assert words in told


def test_parts_fade_and_have_no_part_in_the_colour_of_the_car() -> None:
    seat = [at("seat", (30, 15, 18)), at("seat", (28, 18, 20), "hidden")]
    (group,) = read(*four(), *seat).groups
    assert [f.subject for f in group.fades] == ["seat"]
    assert "seat" not in {s.sign.subject for s in group.signs}


def test_a_panel_slightly_off_stands_first_and_a_match_is_no_proof() -> None:
    car = read(*four(wing=(46.5, -11.0, 20.0)))
    signs = car.groups[0].signs
    assert signs[0].sign.subject == "wing"
    assert signs[0].sign.lr_later_work > 2
    assert all(s.sign.lr_later_work >= 0.5 for s in signs)
    sign = car.sign_of("wing")
    assert sign is not None
    assert not sign.sun_may_explain
    assert car.sign_of("roof") is None


def test_a_fade_as_large_as_the_distance_may_explain_it() -> None:
    off = (47.5, -11.5, 17.0)
    (group,) = read(*four(lid=off), at("lid", GREEN, "hidden")).groups
    assert group.signs[0].sign.subject == "lid"
    assert group.signs[0].sun_may_explain


def test_another_paint_is_named_and_not_weighed() -> None:
    car = read(*four(wing=(85.0, 0.0, 12.0)))
    assert car.sign_of("wing") is None
    assert any("wing is more than 5 ΔE00 from every other panel" in s for s in car.groups[0].unsaid)
    cream = [at(f"cream {i}", (85.0 + i / 10, 0, 12)) for i in range(3)]
    both = read(*four(), *cream).groups[0]
    assert len(both.signs) == 7
    assert max(s.sign.away_e00.value for s in both.signs) < 1


def test_seams_are_of_panels_alone() -> None:
    (group,) = read(*four(), at("seat"), pairs=(("door", "wing"), ("door", "seat"))).groups
    assert [(s.first, s.second) for s in group.seams] == [("door", "wing")]


def test_no_reading_is_refused() -> None:
    with pytest.raises(NotEnoughEvidenceError):
        read()
