"""What is computed of a car for its dossier, where it was not given."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from asfound.base import AsfoundError, NotEnoughEvidenceError
from asfound.choose import Problem
from asfound.measure.colour import CarColour
from asfound.measure.film import FilmReading
from asfound.measure.gaps import GapResult
from asfound.measure.metal import CarMetal
from asfound.measure.polish import PolishResult
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.numbers import CarMark, classes_of, marks_of
from asfound.record.convert.odometer import odometer_readings
from asfound.record.derived import (
    ChoiceResult,
    choice_result,
    colour_reading,
    film_reading,
    found_ledger,
    gaps_reading,
    history_reading,
    metal_reading,
    polish_reading,
    weighed_evidence,
)
from asfound.record.evidence.ledger import Ledger
from asfound.record.folder import CarFolder
from asfound.weigh.dates import HistoryReading
from asfound.weigh.evidence import Weighed
from asfound.weigh.numbers import PreservationClass
from asfound.weigh.odometer import OdometerResult, read_odometer

Progress = Callable[[float], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Originality:
    """What evidence says of a car; empty or ``None`` where nothing was written down."""

    ledger: Ledger
    weighed: tuple[Weighed, ...]
    marks: tuple[CarMark, ...]
    classes: tuple[PreservationClass, ...]
    odometer: OdometerResult | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Computed:
    """Results of a car; ``None`` where the tables for them are not there."""

    reading: FilmReading | None
    reading_missing: str
    problem: Problem | None
    decided: ChoiceResult | None
    metal: CarMetal | None = None
    metal_missing: str = ""
    colour: CarColour | None = None
    polish: PolishResult | None = None
    polish_missing: str = ""
    gaps: GapResult | None = None
    history: HistoryReading | None = None
    history_missing: str = ""
    originality: Originality | None = None
    originality_missing: str = ""


def compute(
    car: CarFolder,
    *,
    reading: FilmReading | None,
    result: ChoiceResult | None,
    progress: Progress,
) -> Computed:
    """Results of the car, computed where they were not given."""
    missing = ""
    if reading is None and len(car.sheet("film")):
        try:
            reading = film_reading(car)
        except NotEnoughEvidenceError as error:
            missing = str(error)
    progress(0.3)
    problem = choice_problem(car) if len(car.sheet("options")) else None
    if result is None and problem is not None:
        result = choice_result(car)
    progress(0.8)
    metal, metal_missing = _metal(car)
    polish, polish_missing = _polish(car)
    history, history_missing = _history(car)
    originality, originality_missing = _originality(car)
    return Computed(
        reading=reading,
        reading_missing=missing,
        problem=problem,
        decided=result,
        metal=metal,
        metal_missing=metal_missing,
        colour=colour_reading(car) if len(car.sheet("colour")) else None,
        polish=polish,
        polish_missing=polish_missing,
        gaps=gaps_reading(car) if len(car.sheet("gaps")) else None,
        history=history,
        history_missing=history_missing,
        originality=originality,
        originality_missing=originality_missing,
    )


def _originality(car: CarFolder) -> tuple[Originality | None, str]:
    """What evidence says, or why it cannot be weighed; neither where nobody wrote any."""
    try:
        weighed, marks, classes = weighed_evidence(car), marks_of(car), classes_of(car)
        readings = odometer_readings(car)
        if not (weighed or marks or classes or readings or len(car.sheet("evidence"))):
            return None, ""
        found = Originality(
            ledger=found_ledger(car),
            weighed=weighed,
            marks=marks,
            classes=classes,
            odometer=read_odometer(readings) if readings else None,
        )
    except AsfoundError as error:
        return None, f"The evidence cannot be weighed: {error}"
    return found, ""


def _history(car: CarFolder) -> tuple[HistoryReading | None, str]:
    """Reading of the history, or why there is none."""
    if not len(car.sheet("events")):
        return None, ""
    try:
        return history_reading(car), ""
    except AsfoundError as error:
        return None, f"The history cannot be read: {error}"


def _polish(car: CarFolder) -> tuple[PolishResult | None, str]:
    """What polishing says, or why it cannot be read; neither where nobody wrote of it."""
    if not len(car.sheet("polish")) and not len(car.sheet("polish_floors")):
        return None, ""
    try:
        return polish_reading(car), ""
    except AsfoundError as error:
        return None, f"The polishing cannot be read: {error}"


def _metal(car: CarFolder) -> tuple[CarMetal | None, str]:
    """Reading of the sheet metal, or why there is none."""
    if not len(car.sheet("metal")):
        return None, ""
    try:
        return metal_reading(car), ""
    except AsfoundError as error:
        return None, f"The sheet metal cannot be read: {error}"
