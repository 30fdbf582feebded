"""The reading of sheet metal as ``asfound metal --json`` prints it, and in words."""

from __future__ import annotations

import math
from typing import Any

from asfound.base import Estimate
from asfound.measure.metal import CarMetal, Nominal, Place, PlaceLife, SubjectMetal
from asfound.record.convert.metal import assumed_for
from asfound.record.convert.metal_grounds import gauge_doubts, sheets_when_new
from asfound.record.folder import CarFolder

_DIGITS = 4
"""Digits after the point of a millimetre: a tenth of a micrometre, beyond any gauge."""
BARE_STEEL = (
    "Context, not a finding: what bare, open carbon steel would have lost on one face where the "
    "car stood. Paint keeps steel from it; a seam that holds mud and salt goes faster. "
    "ISO 9223 and ISO 9224, from restatements."
)
LEAST_CAUTION = (
    "How thin a sheet may become is a decision of whoever answers for the car's safety, under "
    "local rules; the program only counts."
)
LOSS_SAYS = (
    "“Yes”: the loss at the thinnest place exceeds the error of the method. “Not certain”: the "
    "error exceeds the loss, so the sheet may be whole."
)
"""What the words of :func:`loss_words` mean."""
METHOD_BLIND = "The method's error exceeds the loss, so no loss can be told, on: "
RATE_DOUBT = "the difference behind this rate does not exceed the method's error"


def metal_json(metal: CarMetal, car: CarFolder) -> dict[str, Any]:
    """Reading with what it was held against and what had to be assumed."""
    new = sheets_when_new(car)
    sources = {key: (sheet.source, sheet.tolerance_assumed) for key, sheet in new.items()}
    return {
        "gauges": [
            {
                "gauge": doubt.gauge,
                "u_mm": doubt.u_mm,
                "source": doubt.source,
                "assumed": doubt.assumed,
            }
            for doubt in gauge_doubts(car).values()
        ],
        "subjects": [
            _subject(found, *sources.get((found.about.kind, found.about.subject), ("", False)))
            for found in metal.subjects
        ],
        "bare_steel": _bare(metal),
        "assumed": [{"what": a.what, "remedy": a.remedy} for a in assumed_for(car)],
        "caution": LEAST_CAUTION,
    }


def nominal_words(nominal: Nominal | None) -> str:
    """Nominal with its system, always.

    Examples
    --------
    >>> from asfound.measure.metal import nominal
    >>> nominal_words(nominal(system="SWG", gauge=20))
    '20 SWG, 0.914 mm'
    """
    if nominal is None:
        return "not known"
    if nominal.gauge is None:
        return f"{nominal.thickness_mm:g} mm"
    return f"{nominal.gauge} {nominal.system}, {nominal.thickness_mm:.3f} mm"


def loss_words(found: SubjectMetal) -> str:
    """Whether metal is lost: yes, not certain, or why nobody can say."""
    if found.loss is None:
        return "when new not known"
    return "yes" if found.loss.told_apart else "not certain"


def life_words(found: SubjectMetal) -> str:
    """Remaining life in words, with its rate and what it rests on, or why there is none."""
    if found.life is None:
        return found.life_missing
    life = found.life.life
    place = f"at {found.life.place.x_mm:.0f}, {found.life.place.y_mm:.0f} mm"
    if life.below_least:
        return f"Below its least thickness of {found.about.least_mm:g} mm already, {place}."
    if math.isinf(life.years):
        return (
            f"No loss was seen between the readings, so no end can be told{_at_worst(found.life)}."
        )
    since = "nominal when built" if found.life.from_nominal else "first reading"
    doubt = "" if found.life.rate_told else f"; {RATE_DOUBT}"
    rate_mm_a = max(life.long_rate_mm_a, life.short_rate_mm_a)
    whence = f"since the {since}" if life.governing == "long" else "since the last reading but one"
    return (
        f"{_years(life.years)} to {found.about.least_mm:g} mm {place}, by the {life.governing} "
        f"rate of {rate_mm_a * 1000:.1f} µm a year {whence}{doubt}{_at_worst(found.life)}."
    )


def _at_worst(life: PlaceLife) -> str:
    """The life with the method's error against it, where that tells more than the life."""
    if math.isinf(life.years_low):
        return ""
    return f"; with the method's error against it, {_years(life.years_low).lower()}"


def _years(years: float) -> str:
    if years < 1:
        return "Under a year"
    return "More than 100 years" if years > 100 else f"{years:.0f} years"


def _subject(found: SubjectMetal, source: str, tolerance_assumed: bool) -> dict[str, Any]:
    about, loss = found.about, found.loss
    return {
        "subject": about.subject,
        "kind": about.kind,
        "nominal": _nominal(about.nominal, about.tolerance_mm, source, tolerance_assumed),
        "readings_n": len(about.readings),
        "left_mm": _estimate(found.left_mm),
        "thinnest_mm": _estimate(found.thinnest_mm),
        "mean_loss_mm": None if loss is None else _estimate(loss.mean_loss_mm),
        "worst_loss_mm": None if loss is None else _estimate(loss.worst_loss_mm),
        "loss_share": None if loss is None else round(loss.loss_share, _DIGITS),
        "told_apart": None if loss is None else loss.told_apart,
        "note": found.note,
        "places": [_place(place, about.nominal) for place in found.places],
        "least_mm": about.least_mm,
        "life": None if found.life is None else _life(found.life),
        "life_in_words": life_words(found),
    }


def _nominal(
    nominal: Nominal | None, tolerance_mm: float, source: str, tolerance_assumed: bool
) -> dict[str, Any] | None:
    if nominal is None:
        return None
    return {
        "system": nominal.system,
        "gauge": nominal.gauge,
        "thickness_mm": round(nominal.thickness_mm, _DIGITS),
        "tolerance_mm": round(tolerance_mm, _DIGITS),
        "tolerance_assumed": tolerance_assumed,
        "source": source,
    }


def _place(place: Place, nominal: Nominal | None) -> dict[str, Any]:
    left_mm = place.last.thickness_mm
    return {
        "x_mm": place.x_mm,
        "y_mm": place.y_mm,
        "thickness_mm": round(left_mm, _DIGITS),
        "loss_mm": None if nominal is None else round(nominal.thickness_mm - left_mm, _DIGITS),
        "occasions": [
            {
                "year": None if occasion.year is None else round(occasion.year, 2),
                "thickness_mm": round(occasion.thickness_mm, _DIGITS),
                "u_mm": occasion.u_mm,
                "readings_n": occasion.readings_n,
            }
            for occasion in place.occasions
        ],
    }


def _life(found: PlaceLife) -> dict[str, Any]:
    life = found.life
    return {
        "years": _or_none(life.years),
        "years_low": _or_none(found.years_low),
        "governing": life.governing,
        "long_rate_mm_a": round(life.long_rate_mm_a, 6),
        "short_rate_mm_a": round(life.short_rate_mm_a, 6),
        "below_least": life.below_least,
        "x_mm": found.place.x_mm,
        "y_mm": found.place.y_mm,
        "from_nominal": found.from_nominal,
        "rate_told": found.rate_told,
    }


def _or_none(years: float) -> float | None:
    """Years to a tenth; a life without end has none."""
    return None if math.isinf(years) else round(years, 1)


def _bare(metal: CarMetal) -> dict[str, Any] | None:
    bare = metal.bare
    if bare is None:
        return None
    return {
        "low_um": round(bare.low_um, 1),
        "high_um": round(bare.high_um, 1),
        "years": round(bare.years, 1),
        "unknown_years": round(bare.unknown_years, 1),
        "says": BARE_STEEL,
    }


def _estimate(estimate: Estimate) -> dict[str, float]:
    return {"value": round(estimate.value, _DIGITS), "u": round(estimate.u, _DIGITS)}
