"""Colour readings of a car and what they are held against become a colour survey."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.measure.colour import (
    NOT_STATED,
    THRESHOLDS,
    ColourReading,
    ColourSurvey,
    ColourThreshold,
    Viewing,
)
from asfound.record.convert.neighbours import neighbours_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row

ASSUMED_U = 0.3
"""Standard uncertainty of one reading in each coordinate where its instrument is not in
``instruments.csv`` [CIELAB]: a guess, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InstrumentDoubt:
    """Standard uncertainty taken for one reading [CIELAB], and where it comes from."""

    u: float
    source: str


def colour_survey(car: CarFolder) -> ColourSurvey:
    """Colour survey of the car.

    Raises
    ------
    InputFaultsError
        If the car has no colour reading at all.
    """
    rows = list(car.sheet("colour"))
    if not rows:
        raise InputFaultsError(
            (
                Fault(
                    file="colour.csv",
                    rule="the car has no colour reading",
                    remedy="Add colour.csv with panel, x_mm, y_mm, L, a, b and exposure.",
                ),
            )
        )
    return ColourSurvey(
        readings=tuple(_reading(row) for row in rows),
        panels=frozenset(row.text("panel") for row in rows if row.text("panel")),
        neighbours=neighbours_of(car).pairs,
        instrument_u=instrument_doubt(car).u,
    )


def instrument_doubt(car: CarFolder) -> InstrumentDoubt:
    """The largest doubt of the instruments that read; a guess stands for those unknown."""
    used = dict.fromkeys(row.text("instrument") for row in car.sheet("colour"))
    known = {
        row.text("instrument"): InstrumentDoubt(
            u=row.number("u"), source=f"{row.text('instrument')}: {row.text('source')}"
        )
        for row in car.sheet("instruments")
        if row.text("kind") == "colour" and row.number("u") > 0
    }
    return max((known.get(name, _guessed(name)) for name in used), key=lambda doubt: doubt.u)


def thresholds_of(car: CarFolder) -> tuple[ColourThreshold, ...]:
    """Thresholds of the car's own table; without one, those that the program comes with."""
    own = tuple(
        ColourThreshold(
            measure=row.text("measure"),  # type: ignore[arg-type]  # checked on reading
            over=row.number("over"),
            up_to=row.number("up_to"),
            meaning=row.text("meaning"),
            field=row.text("field"),
            source=row.text("source"),
            status=row.text("status") or "not stated",
        )
        for row in car.sheet("colour_thresholds")
    )
    return own or THRESHOLDS


def viewing_of(illuminant: str, observer: str) -> Viewing:
    """Light and observer as one spelling, so that "10°" and "10" are one; blank is not stated.

    Examples
    --------
    >>> viewing_of("d65", "10°") == viewing_of("D65", "10 deg")
    True
    """
    degrees = observer.strip().lower().removesuffix("degrees").removesuffix("deg")
    return Viewing(
        illuminant=illuminant.strip().upper() or NOT_STATED,
        observer=degrees.strip("° ") or NOT_STATED,
    )


def _guessed(name: str) -> InstrumentDoubt:
    whose = f"{name} is not in instruments.csv" if name else "an instrument that nobody named"
    return InstrumentDoubt(u=ASSUMED_U, source=f"{whose}: a guess, no source")


def _reading(row: Row) -> ColourReading:
    return ColourReading(
        subject=row.text("panel") or row.text("part"),
        x_mm=row.number("x_mm"),
        y_mm=row.number("y_mm"),
        l_star=row.number("L"),
        a_star=row.number("a"),
        b_star=row.number("b"),
        exposure=row.text("exposure"),  # type: ignore[arg-type]  # checked on reading
        viewing=viewing_of(row.text("illuminant"), row.text("observer")),
    )
