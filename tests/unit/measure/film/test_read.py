"""The reading of a finish on small surveys made by hand."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
import pytest
from shapely import Polygon, box

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.measure.film import FilmReading, FilmSurvey, Panel, Reading, ShimReading, read_film

DOOR = box(0, 0, 1000, 700)


def survey(
    *,
    panels_n: int = 6,
    spots_n: int = 12,
    level_um: float = 120.0,
    added_um: Callable[[int, int], float] = lambda panel, spot: 0.0,
    readings_n: int = 3,
    shims: tuple[ShimReading, ...] = (),
    outline: Polygon = DOOR,
) -> FilmSurvey:
    rng = np.random.Generator(np.random.PCG64(1))
    readings = []
    for p in range(panels_n):
        for k in range(spots_n):
            film = level_um * (1 + 0.04 * rng.standard_normal()) + added_um(p, k)
            readings += [
                Reading(
                    panel=f"panel {p}",
                    spot=str(k),
                    x_mm=100.0 + 250 * (k % 4),
                    y_mm=100.0 + 220 * (k // 4 % 3),
                    thickness_um=film + rng.normal(0, 1),
                )
                for _ in range(readings_n)
            ]
    panels = tuple(Panel(panel=f"panel {p}", outline=outline) for p in range(panels_n))
    return FilmSurvey(panels=panels, readings=tuple(readings), shims=shims)


def p_by_panel(reading: FilmReading) -> list[float]:
    return [panel.p_later_work for panel in reading.panels]


def test_a_blown_in_repair_is_found_and_outlined() -> None:
    reading = read_film(survey(added_um=lambda p, k: 140.0 * (p == 2 and k in {5, 6})))
    panel = reading.panels[2]
    marked = {s.spot for s in panel.spots if s.p_later_work > 0.5}
    assert marked == {"5", "6"}
    assert panel.kinds["local respray"] > 0.5
    (area,) = panel.areas
    centre = area.outline.centroid
    assert (centre.x, centre.y) == pytest.approx((475.0, 320.0), abs=90.0)
    assert max(p for i, p in enumerate(p_by_panel(reading)) if i != 2) < 0.2


def test_filler_is_called_filler_and_shown_in_the_surface() -> None:
    reading = read_film(survey(added_um=lambda p, k: 1200.0 * (p == 1 and k == 5)))
    panel = reading.panels[1]
    (spot,) = (s for s in panel.spots if s.spot == "5")
    assert spot.kinds["filler"] > 0.9
    assert [area.kind for area in panel.areas] == ["filler"]
    at = (
        int(np.abs(panel.surface.y_mm - 320).argmin()),
        int(np.abs(panel.surface.x_mm - 350).argmin()),
    )
    assert panel.surface.film_um[at] > 900
    assert np.nanmedian(panel.surface.film_um) < 250


def test_a_thin_edge_is_called_polished() -> None:
    reading = read_film(
        survey(spots_n=12, level_um=150.0, added_um=lambda p, k: -55.0 * (p == 3 and k < 4))
    )
    panel = reading.panels[3]
    assert all(s.p_later_work > 0.5 for s in panel.spots if int(s.spot) < 4)
    assert panel.kinds["polished thin"] > 0.5


def test_refinished_panels_are_told_from_the_rest() -> None:
    reading = read_film(survey(panels_n=8, added_um=lambda p, k: 130.0 * (p < 3)))
    assert reading.level_um.value == pytest.approx(120.0, rel=0.05)
    assert all(p > 0.95 for p in p_by_panel(reading)[:3])
    assert all(p < 0.2 for p in p_by_panel(reading)[3:])
    assert reading.panels[0].kinds["refinished over"] > 0.5


def test_one_panel_alone_stays_in_doubt() -> None:
    (panel,) = read_film(survey(panels_n=1)).panels
    assert 0.02 < panel.p_later_work < 0.5
    assert 0.1 < panel.lr_later_work < 2


def test_one_refinish_over_the_whole_car_cannot_be_seen() -> None:
    reading = read_film(survey(level_um=120.0, added_um=lambda p, k: 130.0))
    assert reading.level_um.value == pytest.approx(250.0, rel=0.05)
    assert all(0.01 < p < 0.2 for p in p_by_panel(reading))


def test_a_panel_without_spots_keeps_the_prior() -> None:
    plain = survey()
    more = FilmSurvey(
        panels=(*plain.panels, Panel(panel="roof", outline=DOOR)), readings=plain.readings
    )
    roof = next(p for p in read_film(more).panels if p.panel == "roof")
    assert roof.spots == ()
    assert roof.lr_later_work == pytest.approx(1.0, rel=0.05)
    assert any(spot.panel == "roof" for spot in read_film(more).next_spots)


@pytest.mark.parametrize(("spots_n", "readings_n"), [(1, 1), (2, 1), (1, 3)])
def test_few_readings_are_read_without_certainty(spots_n: int, readings_n: int) -> None:
    reading = read_film(survey(spots_n=spots_n, readings_n=readings_n))
    assert all(0.02 < p < 0.4 for p in p_by_panel(reading))


def test_spots_at_one_place_and_beyond_the_outline_are_borne() -> None:
    rows = tuple(
        Reading(panel="a", spot=str(k), x_mm=-15.0, y_mm=50.0, thickness_um=100.0 + k)
        for k in range(6)
    )
    reading = read_film(FilmSurvey(panels=(Panel(panel="a", outline=DOOR),), readings=rows))
    assert np.isfinite(reading.panels[0].p_later_work)


def test_a_sliver_of_a_panel_is_borne() -> None:
    thin = Polygon([(0, 0), (1000, 990), (1000, 991), (0, 1)])
    reading = read_film(survey(panels_n=2, outline=thin))
    assert np.isfinite(reading.panels[0].surface.film_um).any()


def test_gauges_are_corrected_each_by_its_own_shims() -> None:
    plain = survey(panels_n=4)
    rows = tuple(
        Reading(
            panel=r.panel,
            spot=r.spot,
            x_mm=r.x_mm,
            y_mm=r.y_mm,
            gauge=gauge,
            thickness_um=offset + slope * r.thickness_um,
        )
        for r in plain.readings
        for gauge, offset, slope in [
            ("red", 6.0, 1.05) if r.panel < "panel 2" else ("blue", -5.0, 0.96)
        ]
    )
    shims = tuple(
        ShimReading(nominal_um=n, read_um=offset + slope * n, gauge=gauge)
        for gauge, offset, slope in [("red", 6.0, 1.05), ("blue", -5.0, 0.96)]
        for n in (0.0, 125.0, 500.0) * 2
    )
    reading = read_film(FilmSurvey(panels=plain.panels, readings=rows, shims=shims))
    assert reading.level_um.value == pytest.approx(120.0, rel=0.03)
    assert [g.gauge for g in reading.gauges] == ["blue", "red"]
    assert reading.gauges[1].slope.value == pytest.approx(1.05)
    assert all(p < 0.25 for p in p_by_panel(reading))


def test_a_reading_without_a_gauge_takes_the_only_one_known() -> None:
    shims = tuple(
        ShimReading(nominal_um=n, read_um=10.0 + n, gauge="red") for n in (0.0, 250.0) * 2
    )
    reading = read_film(survey(level_um=120.0, shims=shims))
    assert reading.level_um.value == pytest.approx(110.0, rel=0.05)


def test_next_spots_keep_apart_and_off_the_edge() -> None:
    reading = read_film(survey(added_um=lambda p, k: 140.0 * (p == 2 and k in {5, 6})))
    first = reading.next_spots[0]
    assert first.panel == "panel 2"
    assert first.gain_bits > reading.next_spots[-1].gain_bits > 0
    here = [(s.x_mm, s.y_mm) for s in reading.next_spots if s.panel == "panel 2"]
    for i, a in enumerate(here):
        assert all(np.hypot(a[0] - b[0], a[1] - b[1]) > 50 for b in here[:i])
        assert 25 <= a[0] <= 975
        assert 25 <= a[1] <= 675


def test_progress_ends_at_one() -> None:
    told: list[float] = []
    read_film(survey(panels_n=3), progress=told.append)
    assert told == pytest.approx([1 / 3, 2 / 3, 1.0])


def test_what_cannot_be_read_is_refused() -> None:
    panel = Panel(panel="a", outline=DOOR)
    with pytest.raises(NotEnoughEvidenceError):
        read_film(FilmSurvey(panels=(panel,), readings=()))
    stray = Reading(panel="b", spot="1", x_mm=0.0, y_mm=0.0, thickness_um=100.0)
    with pytest.raises(InputError, match="panel"):
        read_film(FilmSurvey(panels=(panel,), readings=(stray,)))
