"""Readings of sheet thickness of a car become a metal survey, with what had to be assumed."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from asfound.measure.metal import MetalReading, MetalSubject, MetalSurvey
from asfound.record.convert.decimal_years import decimal_year
from asfound.record.convert.metal_grounds import (
    ASSUMED_TOLERANCE_SHARE,
    GaugeDoubt,
    SheetWhenNew,
    climates_of,
    gauge_doubts,
    sheets_when_new,
)
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumed:
    """Something that the result rests on and nobody stated, with what would replace it."""

    what: str
    remedy: str


def metal_survey(car: CarFolder) -> MetalSurvey:
    """Metal survey of the car, its panels and parts in the order met.

    Raises
    ------
    InputFaultsError
        If the car has no reading of sheet thickness, a reading is not more than zero, or a
        nominal or a climate cannot be read.
    """
    rows = list(car.sheet("metal"))
    _check(rows)
    doubts, new = gauge_doubts(car), sheets_when_new(car)
    read: dict[tuple[str, str], list[MetalReading]] = {}
    for row in rows:
        read.setdefault(_subject(row), []).append(_reading(row, doubts))
    return MetalSurvey(
        subjects=tuple(
            MetalSubject(
                subject=name,
                kind=kind,  # type: ignore[arg-type]  # one of two words, see _subject
                readings=tuple(readings),
                **_held_against(new.get((kind, name))),
            )
            for (kind, name), readings in read.items()
        ),
        built_year=next((decimal_year(row.text("built")) for row in car.sheet("car")), None),
        climates=climates_of(car, until_year=last_year(car)),
    )


def last_year(car: CarFolder) -> float | None:
    """When the last dated reading was taken; None where none bears a date."""
    years = [decimal_year(row.text("taken_at")) for row in car.sheet("metal")]
    return max((year for year in years if year is not None), default=None)


def assumed_for(car: CarFolder) -> tuple[Assumed, ...]:
    """What the result rests on and nobody stated."""
    gauges = gauge_doubts(car).values()
    return (*_assumed_gauges(gauges), *_assumed_sheets(car), *_unknown_air(car))


def _assumed_gauges(doubts: Iterable[GaugeDoubt]) -> Iterator[Assumed]:
    for doubt in doubts:
        if doubt.assumed:
            name = doubt.gauge or "The gauge that nobody named"
            yield Assumed(
                what=f"{name}: a standard uncertainty of {doubt.u_mm:g} mm is assumed; "
                "it is a guess without a source.",
                remedy="Name the gauge in the readings and write its u into the table of "
                "instruments, from its certificate or from a trial on sheet of known thickness.",
            )


def _assumed_sheets(car: CarFolder) -> Iterator[Assumed]:
    new, names = sheets_when_new(car), dict.fromkeys(_subject(r) for r in car.sheet("metal"))
    loose = [name for kind, name in names if (s := new.get((kind, name))) and s.tolerance_assumed]
    if loose:
        yield Assumed(
            what=f"{', '.join(loose)}: the sheet is assumed to have left the mill within "
            f"± {ASSUMED_TOLERANCE_SHARE:.0%} of its nominal; it is a guess without a source.",
            remedy="Write the tolerance into the table of nominals, or measure a protected place "
            "of the same sheet.",
        )


def _unknown_air(car: CarFolder) -> Iterator[Assumed]:
    used = len(climates_of(car, until_year=last_year(car)))
    left_out = len(car.sheet("climates")) - used
    if left_out:
        yield Assumed(
            what=f"{left_out} of {left_out + used} rows of the climate are left out: nobody knows "
            "when they begin or end, and no reading bears a date that could end them.",
            remedy="Write since and until.",
        )


def _check(rows: list[Row]) -> None:
    if not rows:
        raise InputFaultsError(
            (
                Fault(
                    file="metal.csv",
                    rule="the car has no reading of sheet thickness",
                    remedy="Add metal.csv with panel or part, x_mm, y_mm and thickness_mm.",
                ),
            )
        )
    faults = tuple(hole_faults(rows))
    if faults:
        raise InputFaultsError(faults)


def hole_faults(rows: Iterable[Row]) -> Iterator[Fault]:
    """Readings of nothing: a hole is a finding, not a thickness."""
    for row in rows:
        if row.number("thickness_mm") <= 0:
            yield Fault(
                file="metal.csv",
                row=row.number_in_file,
                column="thickness_mm",
                value=row.text("thickness_mm"),
                rule="a thickness is more than zero",
                remedy="A hole is a finding, not a thickness: write it into findings.csv.",
            )


def _subject(row: Row) -> tuple[str, str]:
    return ("panel", row.text("panel")) if row.text("panel") else ("part", row.text("part"))


def _reading(row: Row, doubts: dict[str, GaugeDoubt]) -> MetalReading:
    return MetalReading(
        x_mm=row.number("x_mm"),
        y_mm=row.number("y_mm"),
        thickness_mm=row.number("thickness_mm"),
        u_mm=doubts[row.text("gauge")].u_mm,
        gauge=row.text("gauge"),
        year=decimal_year(row.text("taken_at")),
    )


def _held_against(sheet: SheetWhenNew | None) -> dict[str, Any]:
    if sheet is None:
        return {}
    return {
        "nominal": sheet.nominal,
        "tolerance_mm": sheet.tolerance_mm,
        "least_mm": sheet.least_mm,
    }
