"""Polishing: what a pass took, what is left above the floors, and how many may follow."""

from __future__ import annotations

from typing import Any

from asfound.base import AsfoundError
from asfound.dossier.account.survey import when_and_by
from asfound.dossier.figures import wedge_svg
from asfound.dossier.figures.marks import percent
from asfound.dossier.numbers import MISSING, plain, with_doubt
from asfound.measure.polish import AreaBudget, PolishResult, ProcessBudget, SpotBudget
from asfound.record.folder import CarFolder
from asfound.record.results.polish import area_name, passes_words, process_name

_COVERAGE = 0.95
_NO_FLOOR = "no floor set"


def about_polish(car: CarFolder, result: PolishResult) -> dict[str, Any]:
    """Passes, and every polished panel with its areas, spots and cautions."""
    return {
        "readings_n": len(car.sheet("polish")),
        "taken": when_and_by(list(car.sheet("polish"))),
        "asked": percent(result.asked_probability),
        "passes": [
            [
                area_name(r.panel, r.area),
                process_name(r.process),
                with_doubt(
                    r.removal.per_pass_um.value,
                    r.removal.per_pass_um.expanded(coverage=_COVERAGE),
                    1,
                ),
                str(r.removal.spots_n),
                "yes" if r.removal.told_apart else "no",
            ]
            for r in result.removals
        ],
        "panels": [
            {
                "name": panel,
                "figure": name,
                "areas": [_area(a) for a in result.areas if a.panel == panel],
            }
            for panel, name in _names(car, result)
        ],
    }


def wedge_figures(car: CarFolder, result: PolishResult) -> dict[str, str]:
    """Wedge map of every polished panel that somebody drew, by the name of its file."""
    found = {}
    for number, panel in enumerate(dict.fromkeys(a.panel for a in result.areas)):
        try:
            found[f"wedge-{number}.svg"] = wedge_svg(car, result, panel, theme="print")
        except AsfoundError:
            continue  # nobody drew the panel: its numbers stand without a picture
    return found


def _names(car: CarFolder, result: PolishResult) -> list[tuple[str, str]]:
    drawn = wedge_figures(car, result)
    panels = dict.fromkeys(a.panel for a in result.areas)
    files = [f"wedge-{number}.svg" for number in range(len(panels))]
    return [(p, f if f in drawn else "") for p, f in zip(panels, files, strict=True)]


def _area(area: AreaBudget) -> dict[str, Any]:
    floor = area.floor
    ground = f" ({floor.source})" if floor and floor.source else ""
    return {
        "name": area_name(area.panel, area.area),
        "floor": f"floor {plain(floor.floor.film_um)} µm, {floor.floor.basis}{ground}"
        if floor
        else _NO_FLOOR,
        "processes": [_process(p) for p in area.processes],
        "cautions": list(area.cautions),
        "spots": [_spot(s) for s in area.spots],
    }


def _process(budget: ProcessBudget) -> list[str]:
    stay = percent(budget.worst.stay_probability) if budget.worst else MISSING
    return [process_name(budget.process), passes_words(budget), stay]


def _spot(spot: SpotBudget) -> list[str]:
    now, over = spot.present, spot.over_floor_um
    return [
        now.spot,
        with_doubt(now.film_um.value, now.film_um.expanded(coverage=_COVERAGE), 0),
        with_doubt(over.value, over.expanded(coverage=_COVERAGE), 0) if over else MISSING,
        now.basis,
    ]
