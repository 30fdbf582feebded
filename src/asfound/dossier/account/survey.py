"""The survey of the finish: observations, gauges, and apart from them the reading."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from typing import Any

from asfound.base import Estimate
from asfound.dossier.figures.marks import percent
from asfound.dossier.numbers import MISSING, plain, with_doubt
from asfound.measure.base_of_films import DISAGREE, FilmBand
from asfound.measure.film import FilmReading, GaugeCorrection, PanelReading, SpotReading
from asfound.record.convert.years import built_years
from asfound.record.folder import CarFolder, Row
from asfound.record.results.film import TWO_SIDED, panel_words

_COVERAGE = 0.95
_SHOWN_FROM = 0.5
"""A panel has its own page when later work on it is as likely as not."""
_NO_GAUGE = "not named"


def about_survey(
    car: CarFolder, reading: FilmReading, *, bands: Sequence[FilmBand] = ()
) -> dict[str, Any]:
    """Method, gauges, panels, the panels with later work one by one, and bands beside it all."""
    shown = panels_shown(reading)
    return {
        "two_sided": TWO_SIDED,
        "level": with_doubt(reading.level_um.value, _u95(reading.level_um), 0),
        "taken": when_and_by(list(car.sheet("film"))),
        "readings_n": len(car.sheet("film")),
        "spots_n": sum(p.spots_n for p in reading.panels),
        "panels_n": sum(1 for p in reading.panels if p.spots_n),
        "gauges": [_gauge(g, car) for g in reading.gauges],
        "panels": [_line(p) for p in reading.panels],
        "bands": [_band(b, reading.level_um.value) for b in _bands_of(car, bands)],
        "disagree": DISAGREE,
        "pages": [_page(car, p) for p in shown],
        "next": [
            [str(n), s.panel, plain(s.x_mm), plain(s.y_mm), f"{s.gain_bits:.2f}"]
            for n, s in enumerate(reading.next_spots, start=1)
        ],
    }


def _bands_of(car: CarFolder, bands: Sequence[FilmBand]) -> list[FilmBand]:
    """Those that speak of a car of that marque, built then; what is not known excludes none."""
    row = next(iter(car.sheet("car")), None)
    first, last = built_years(row.text("built") if row else "")
    marque = row.text("marque") if row else ""
    return [b for b in bands if b.fits(first_year=first, last_year=last, marque=marque)]


def _band(band: FilmBand, level_um: float) -> list[str]:
    about = {"factory": "factory finish", "repainted": "repaint", "filler": "filler"}
    said = f"{band.source}; {band.note}" if band.note else band.source
    return [
        about[band.about],
        f"{band.marque}, {band.era}" if band.marque else band.era,
        band.words,
        band.place_of(level_um),
        f"{said} ({band.status})",
    ]


def panels_shown(reading: FilmReading) -> list[PanelReading]:
    """Panels with later work, in the order of the reading."""
    return [p for p in reading.panels if p.areas or (p.spots_n and p.p_later_work >= _SHOWN_FROM)]


def _gauge(gauge: GaugeCorrection, car: CarFolder) -> list[str]:
    shims = sum(1 for row in car.sheet("shims") if row.text("gauge") == gauge.gauge)
    return [
        gauge.gauge or _NO_GAUGE,
        str(gauge.readings_n),
        str(shims),
        with_doubt(gauge.offset_um.value, _u95(gauge.offset_um), 1),
        with_doubt(gauge.slope.value, _u95(gauge.slope), 4),
        plain(gauge.repeatability_um, 1),
        plain(gauge.u_um, 1),
    ]


def _line(panel: PanelReading) -> list[str]:
    read = panel.spots_n > 0
    return [
        panel.panel,
        str(panel.spots_n),
        plain(panel.median_um),
        plain(panel.spread_um),
        panel_words(panel),
        percent(panel.p_later_work) if read else MISSING,
    ]


def _page(car: CarFolder, panel: PanelReading) -> dict[str, Any]:
    rows: dict[str, list[Row]] = defaultdict(list)
    for row in car.sheet("film"):
        if row.text("panel") == panel.panel:
            rows[row.text("spot")].append(row)
    return {
        "name": panel.panel,
        "observed": [_observed(spot, found) for spot, found in rows.items()],
        "taken": when_and_by([row for found in rows.values() for row in found]),
        "words": panel_words(panel),
        "probability": percent(panel.p_later_work),
        "kinds": [[kind, percent(p)] for kind, p in _by_weight(panel)],
        "areas": [[a.kind, percent(a.probability), plain(a.area_mm2 / 100)] for a in panel.areas],
        "spots": [
            [
                s.spot,
                plain(s.thickness_um),
                plain(1.96 * s.u_um),
                percent(s.p_later_work),
                _likeliest(s),
            ]
            for s in panel.spots
        ],
    }


def _likeliest(spot: SpotReading) -> str:
    """Kind of later work on a spot, where there is any more likely than not."""
    if not spot.kinds or spot.p_later_work < _SHOWN_FROM:
        return MISSING
    return max(spot.kinds, key=lambda kind: (spot.kinds[kind], kind))


def _by_weight(panel: PanelReading) -> list[tuple[str, float]]:
    return sorted(panel.kinds.items(), key=lambda item: (-item[1], item[0]))


def _observed(spot: str, rows: list[Row]) -> list[str]:
    gauges = dict.fromkeys(row.text("gauge") or _NO_GAUGE for row in rows)
    return [
        spot,
        plain(rows[0].number("x_mm")),
        plain(rows[0].number("y_mm")),
        "  ".join(row.text("thickness_um") for row in rows),
        ", ".join(gauges),
    ]


def when_and_by(rows: list[Row], *, at: str = "taken_at", by: str = "by") -> str:
    """Days and people of observations, from two columns; what nobody wrote down is said."""
    days = sorted({row.text(at)[:10] for row in rows if row.text(at)})
    people = list(dict.fromkeys(row.text(by) for row in rows if row.text(by)))
    when = " to ".join(dict.fromkeys((days[0], days[-1]))) if days else "date not recorded"
    return f"{when}, by {', '.join(people)}" if people else f"{when}, person not recorded"


def _u95(estimate: Estimate) -> float:
    return estimate.expanded(coverage=_COVERAGE)
