"""The polishing of a whole car: present film, budgets by area, what is not known."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from shapely import box

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.measure.film import FilmSurvey, Panel, Reading, ShimReading
from asfound.measure.polish import (
    Floor,
    PanelFloor,
    PolishReading,
    PolishSurvey,
    read_polish,
)

BONNET = Panel(panel="bonnet", outline=box(0, 0, 1000, 800))
SHIMS = tuple(
    ShimReading(nominal_um=n, read_um=4 + 1.02 * n + turn, gauge="g")
    for n in (0, 125, 250, 500)
    for turn in (-1.0, 0.0, 1.0)
)


def shown(film_um: float) -> float:
    """What the gauge of the shims shows on a true film."""
    return 4 + 1.02 * film_um


def polished(spot: str, before_um: float, taken_um: float, **more: object) -> PolishReading:
    told = {
        "panel": "bonnet",
        "area": "",
        "passes_n": 2,
        "process": "soft pad",
        "gauge": "g",
        "day": "2026-03-02",
        **more,
    }
    return PolishReading(
        spot=spot,
        before_um=shown(before_um),
        after_um=shown(before_um - taken_um),
        **told,  # type: ignore[arg-type]
    )


def film(spot: str, film_um: float) -> list[Reading]:
    return [
        Reading(
            panel="bonnet",
            spot=spot,
            x_mm=100,
            y_mm=100,
            thickness_um=shown(film_um) + w,
            gauge="g",
        )
        for w in (-1, 0, 1)
    ]


def floor(film_um: float, *, area: str = "", basis: str = "measured") -> PanelFloor:
    return PanelFloor(
        panel="bonnet",
        floor=Floor(area=area, film_um=film_um, basis=basis),  # type: ignore[arg-type]
    )


SIX = tuple(polished(f"s{i}", 200 + 10 * i, 6 + 0.3 * (-1) ** i) for i in range(6))


def survey(**changes: object) -> PolishSurvey:
    base = PolishSurvey(
        readings=SIX,
        floors=(floor(150),),
        film=FilmSurvey(panels=(BONNET,), readings=(), shims=SHIMS),
    )
    return replace(base, **changes)  # type: ignore[arg-type]


def test_the_gauge_is_corrected_before_anything_is_said() -> None:
    """A gauge with offset 4 and slope 1.02 shows 6.12 µm where 6 came off in two passes."""
    found = read_polish(survey())
    (removal,) = found.removals
    assert removal.removal.per_pass_um.value == pytest.approx(3.0)
    assert removal.removal.spots_n == 6
    (area,) = found.areas
    thinnest = area.spots[0]
    assert thinnest.present.spot == "s0"
    assert thinnest.present.film_um.value == pytest.approx(200 - 6.3)
    assert thinnest.over_floor_um is not None
    assert thinnest.over_floor_um.value == pytest.approx(43.7)
    assert thinnest.above_probability == pytest.approx(1.0, abs=1e-6)


def test_the_area_has_the_passes_of_its_worst_spot() -> None:
    (area,) = read_polish(survey(), stay_probability=0.9).areas
    (process,) = area.processes
    assert process.worst is not None
    assert process.worst.passes_n == min(process.by_spot.values())
    assert process.worst.thinnest_spot == "s0"
    assert process.by_spot["s5"] > process.by_spot["s0"]
    # 43.7 µm over the floor at about 3 µm a pass: fourteen at even odds, fewer to be sure.
    assert 5 <= process.worst.passes_n <= 14


def test_no_floor_is_made_up() -> None:
    (area,) = read_polish(survey(floors=())).areas
    assert area.floor is None
    assert area.processes == ()
    assert [s.over_floor_um for s in area.spots] == [None] * 6
    assert "No floor is set" in area.cautions[0]


def test_a_guessed_floor_is_said_first() -> None:
    (area,) = read_polish(survey(floors=(floor(150, basis="guess"),))).areas
    assert "The floor is a guess" in area.cautions[0]


def test_a_spot_read_before_its_area_was_polished_loses_the_passes_since() -> None:
    readings = tuple(film("old", 300))
    days = {("bonnet", "old"): "2026-03-01"}
    seen = FilmSurvey(panels=(BONNET,), readings=readings, shims=SHIMS)
    (area,) = read_polish(survey(film=seen, film_days=days)).areas
    old = next(s.present for s in area.spots if s.present.spot == "old")
    assert old.basis == "film reading less the passes since"
    assert old.film_um.value == pytest.approx(300 - 2 * 3, abs=0.1)
    later = survey(film=seen, film_days={("bonnet", "old"): "2026-03-03"})
    new = next(s.present for s in read_polish(later).areas[0].spots if s.present.spot == "old")
    assert new.basis == "film reading"
    assert new.film_um.value == pytest.approx(300, abs=0.1)
    assert new.film_um.u < old.film_um.u


def test_the_last_reading_of_a_spot_stands() -> None:
    again = polished("s0", 193.7, 4, day="2026-04-01")
    seen = FilmSurvey(panels=(BONNET,), readings=tuple(film("s0", 200)), shims=SHIMS)
    days = {("bonnet", "s0"): "2026-03-01"}
    (area,) = read_polish(survey(readings=(again, *SIX), film=seen, film_days=days)).areas
    assert area.spots[0].present.film_um.value == pytest.approx(189.7)
    assert area.spots[0].present.basis == "read after polishing"
    assert len(area.spots) == 6


def test_a_process_tried_elsewhere_counts_with_a_caution() -> None:
    floors = (floor(150), floor(150, area="front edge"))
    edge = polished("e1", 190, 4, area="front edge", process="by hand")
    found = read_polish(survey(readings=(*SIX, edge), floors=floors))
    front = next(a for a in found.areas if a.area == "front edge")
    by_name = {p.process: p for p in front.processes}
    assert by_name["by hand"].measured_here
    assert not by_name["soft pad"].measured_here
    assert any("another area" in words for words in front.cautions)


def test_an_area_without_its_own_floor_takes_the_panel_s() -> None:
    edge = polished("e1", 190, 4, area="front edge")
    found = read_polish(survey(readings=(*SIX, edge)))
    front = next(a for a in found.areas if a.area == "front edge")
    assert front.floor is not None
    assert front.floor.floor.film_um == 150


def test_what_cannot_be_told_apart_gives_no_number() -> None:
    none = tuple(polished(f"s{i}", 200, 0.1 * (-1) ** i) for i in range(4))
    (area,) = read_polish(survey(readings=none)).areas
    (process,) = area.processes
    assert process.worst is None
    assert process.by_spot == {}
    assert "no more than the gauge can tell" in process.refusal
    assert area.cautions == ()


def test_a_floor_without_readings_says_what_is_missing() -> None:
    (area,) = read_polish(survey(readings=())).areas
    assert area.spots == ()
    assert "was not read" in area.cautions[0]
    seen = FilmSurvey(panels=(BONNET,), readings=tuple(film("f", 200)), shims=SHIMS)
    (read,) = read_polish(survey(readings=(), film=seen)).areas
    assert "What a pass takes was not measured" in read.cautions[0]


def test_a_gauge_without_shims_carries_the_doubt_of_its_slope() -> None:
    checked = read_polish(survey()).removals[0].removal.per_pass_um
    bare = survey(film=FilmSurvey(panels=(BONNET,), readings=()))
    taken_at_its_word = read_polish(bare).removals[0].removal.per_pass_um
    assert taken_at_its_word.value == pytest.approx(3.0 * 1.02)
    assert taken_at_its_word.u > checked.u
    assert taken_at_its_word.u >= 0.03 * taken_at_its_word.value


def test_refusals() -> None:
    with pytest.raises(NotEnoughEvidenceError, match="before and after"):
        read_polish(survey(readings=(), floors=()))
    with pytest.raises(InputError):
        read_polish(survey(), stay_probability=0.3)


def test_very_many_passes_are_found_without_counting_them() -> None:
    slow = tuple(polished(f"s{i}", 10_000, 5_000 + i, passes_n=1_000_000) for i in range(6))
    (area,) = read_polish(survey(readings=slow)).areas
    worst = area.processes[0].worst
    assert worst is not None
    assert worst.passes_n > 100_000
    assert math.isfinite(worst.stay_probability)
