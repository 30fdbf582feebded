"""What doubting a row of evidence, wear, the numbers or the odometer changes."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.record.convert.numbers import marks_of
from asfound.record.convert.odometer import odometer_readings
from asfound.record.derived import weighed_evidence
from asfound.record.folder import CarFolder
from asfound.record.results.colour_words import lr_figure
from asfound.record.results.odometer import distance_words
from asfound.weigh.odometer import read_odometer

GONE = "nothing is said of it"


@dataclass(frozen=True, slots=True, kw_only=True)
class Effect:
    """Something that reads otherwise before and after."""

    about: str
    before: str
    after: str


def effects(before: CarFolder, after: CarFolder) -> list[Effect]:
    """What reads otherwise between two states of a car.

    Raises
    ------
    AsfoundError
        If either cannot be weighed.
    """
    first, second = _told(before), _told(after)
    return [
        Effect(about=about, before=first.get(about, GONE), after=second.get(about, GONE))
        for about in dict.fromkeys((*first, *second))
        if first.get(about) != second.get(about)
    ]


def _told(car: CarFolder) -> dict[str, str]:
    claims = {
        f"{w.claim.subject}: {w.claim.statement}, or {w.claim.alternative}?": (
            f"{w.words}, ratio {lr_figure(w.lr)}"
        )
        for w in weighed_evidence(car)
    }
    marks = {
        f"{m.judged.reading.kind}, {m.judged.reading.where}": m.judged.words for m in marks_of(car)
    }
    return {**claims, **marks, **_of_odometer(car)}


def _of_odometer(car: CarFolder) -> dict[str, str]:
    readings = odometer_readings(car)
    if not readings:
        return {}
    result = read_odometer(readings)
    unit = result.readings[-1].unit
    return {
        "odometer": f"clashes: {len(result.clashes)}",
        "true distance": "; or ".join(distance_words(span, unit) for span in result.distances),
    }
