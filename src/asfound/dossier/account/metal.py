"""The sheet metal: gauges, what is left, how long it lasts, and what had to be assumed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from asfound.base import Estimate
from asfound.dossier.account.survey import when_and_by
from asfound.dossier.numbers import MISSING, THIN, plain, with_doubt
from asfound.measure.metal import CarMetal, SubjectMetal
from asfound.record.convert.metal import assumed_for
from asfound.record.convert.metal_grounds import gauge_doubts, sheets_when_new
from asfound.record.folder import CarFolder
from asfound.record.results.metal import (
    BARE_STEEL,
    LEAST_CAUTION,
    LOSS_SAYS,
    life_words,
    loss_words,
    nominal_words,
)

_COVERAGE = 0.95
_NO_SOURCE = "not stated"


def about_metal(car: CarFolder, metal: CarMetal) -> dict[str, Any]:
    """Method, gauges, every sheet with its loss, lives, pictures and assumptions."""
    return {
        "readings_n": len(car.sheet("metal")),
        "subjects_n": len(metal.subjects),
        "taken": when_and_by(list(car.sheet("metal"))),
        "gauges": [
            [doubt.gauge or "not named", f"{doubt.u_mm:g}", doubt.source or _NO_SOURCE]
            for doubt in gauge_doubts(car).values()
        ],
        "loss_says": LOSS_SAYS,
        "lines": [_line(found) for found in metal.subjects],
        "sources": list(_sources(car, metal)),
        "notes": [[found.about.subject, found.note] for found in metal.subjects if _speaks(found)],
        "lives": [
            [found.about.subject, life_words(found)]
            for found in metal.subjects
            if found.about.least_mm is not None
        ],
        "pictures": [found.about.subject for found in pictured(car, metal)],
        "bare": list(_bare(metal)),
        "bare_says": BARE_STEEL,
        "assumed": [f"{a.what} {a.remedy}" for a in assumed_for(car)],
        "caution": LEAST_CAUTION,
    }


def pictured(car: CarFolder, metal: CarMetal) -> list[SubjectMetal]:
    """Drawn panels whose loss the method can tell, in the order of the readings."""
    drawn = {row.text("panel") for row in car.sheet("panels")}
    return [s for s in metal.subjects if _speaks(s) and s.about.subject in drawn]


def not_told(metal: CarMetal) -> list[str]:
    """Panels and parts of which the method can tell no loss."""
    return [s.about.subject for s in metal.subjects if not _speaks(s)]


def _speaks(found: SubjectMetal) -> bool:
    return found.loss is not None and found.loss.told_apart


def _line(found: SubjectMetal) -> list[str]:
    loss = found.loss
    nominal = nominal_words(found.about.nominal)
    return [
        found.about.subject,
        nominal,
        str(len(found.places)),
        plain(found.left_mm.value, 2),
        plain(found.thinnest_mm.value, 2),
        MISSING
        if loss is None
        else with_doubt(loss.mean_loss_mm.value, _u95(loss.mean_loss_mm), 2),
        MISSING if loss is None else f"{loss.loss_share:.0%}".replace("%", f"{THIN}%"),
        loss_words(found),
    ]


def _sources(car: CarFolder, metal: CarMetal) -> Iterator[list[str]]:
    """What the nominals rest on, where somebody said it."""
    new = sheets_when_new(car)
    for found in metal.subjects:
        sheet = new.get((found.about.kind, found.about.subject))
        if sheet is not None and sheet.source:
            tolerance = f"± {sheet.tolerance_mm:.2f} mm"
            yield [found.about.subject, nominal_words(sheet.nominal), tolerance, sheet.source]


def _bare(metal: CarMetal) -> Iterator[str]:
    bare = metal.bare
    if bare is not None:
        yield f"{plain(bare.low_um)} to {plain(bare.high_um)} µm in {plain(bare.years)} years"
        if bare.unknown_years >= 0.5:
            yield f"the air of {plain(bare.unknown_years)} years between is not known"


def _u95(estimate: Estimate) -> float:
    return estimate.expanded(coverage=_COVERAGE)
