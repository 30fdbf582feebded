"""What readings of sheet metal are held against: instruments, nominals, climates."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from asfound.base import InputError
from asfound.measure.metal import CATEGORIES, ClimatePeriod, Nominal, nominal, nominal_in_mm
from asfound.record.convert.decimal_years import decimal_year
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row

ASSUMED_U_MM = 0.05
"""Standard uncertainty of a gauge that ``instruments.csv`` does not tell: a guess, no source."""
ASSUMED_TOLERANCE_SHARE = 0.1
"""Half-width of the nominal where nobody states it, as a share of it: a guess, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeDoubt:
    """Standard uncertainty of one gauge [mm], whence it comes, and whether it is a guess."""

    gauge: str
    u_mm: float
    source: str
    assumed: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetWhenNew:
    """Nominal of a panel or part with its tolerance and its least thickness.

    ``tolerance_assumed`` says that nobody stated the tolerance.
    """

    nominal: Nominal
    tolerance_mm: float
    tolerance_assumed: bool
    least_mm: float | None
    source: str


def gauge_doubts(car: CarFolder) -> dict[str, GaugeDoubt]:
    """Doubt of every gauge that read sheet metal, in the order met."""
    stated = {
        row.text("instrument"): row
        for row in car.sheet("instruments")
        if row.text("kind") == "sheet thickness" and row.text("unit") == "mm"
    }
    used = dict.fromkeys(row.text("gauge") for row in car.sheet("metal"))
    return {name: _doubt(name, stated.get(name)) for name in used}


def _doubt(name: str, row: Row | None) -> GaugeDoubt:
    if row is not None:
        return GaugeDoubt(
            gauge=name, u_mm=row.number("u"), source=row.text("source"), assumed=False
        )
    whose = f"{name} is not among the instruments" if name else "nobody named the gauge"
    return GaugeDoubt(
        gauge=name, u_mm=ASSUMED_U_MM, source=f"{whose}: a guess, no source", assumed=True
    )


def sheets_when_new(car: CarFolder) -> dict[tuple[str, str], SheetWhenNew]:
    """What each panel or part was made of, by kind and name.

    A row of ``sheet_nominals`` comes before ``nominal_mm`` of a panel.

    Raises
    ------
    InputFaultsError
        If a nominal cannot be read in its system.
    """
    faults = tuple(nominal_faults(car.sheet("sheet_nominals")))
    if faults:
        raise InputFaultsError(faults)
    drawn = {
        ("panel", row.text("panel")): _when_new(nominal_in_mm(row.number("nominal_mm")), row)
        for row in car.sheet("panels")
        if row.number("nominal_mm", default=0.0) > 0
    }
    written = {_key(row): _when_new(_nominal(row), row) for row in car.sheet("sheet_nominals")}
    return drawn | written


def nominal_faults(rows: Iterable[Row]) -> Iterator[Fault]:
    """Rows whose nominal its system does not have."""
    for row in rows:
        try:
            _nominal(row)
        except InputError as error:
            yield Fault(
                file="sheet_nominals.csv",
                row=row.number_in_file,
                column="nominal",
                value=row.text("nominal"),
                rule=f"{row.text('system')} has no such thickness; allowed is {error.allowed}",
                remedy="Correct the number or its system, or give the thickness in mm.",
            )


def _key(row: Row) -> tuple[str, str]:
    return ("panel", row.text("panel")) if row.text("panel") else ("part", row.text("part"))


def _nominal(row: Row) -> Nominal:
    text, system = row.text("nominal").strip(), row.text("system")
    if system in ("SWG", "MSG"):
        if not text.isdecimal():
            raise InputError(field="nominal", got=text, allowed="a whole gauge number")
        return nominal(system=system, gauge=int(text))  # type: ignore[arg-type]  # just compared
    try:
        return nominal_in_mm(float(text.replace(",", ".")))
    except ValueError:
        raise InputError(field="nominal", got=text, allowed="a number of mm") from None


def _when_new(sheet: Nominal, row: Row) -> SheetWhenNew:
    stated = bool(row.text("tolerance_mm"))
    assumed_mm = ASSUMED_TOLERANCE_SHARE * sheet.thickness_mm
    return SheetWhenNew(
        nominal=sheet,
        tolerance_mm=row.number("tolerance_mm", default=assumed_mm),
        tolerance_assumed=not stated,
        least_mm=row.number("least_mm") if row.text("least_mm") else None,
        source=row.text("source"),
    )


def climates_of(car: CarFolder, *, until_year: float | None) -> tuple[ClimatePeriod, ...]:
    """Periods of the car's climate in the order of time; those whose ends nobody knows left out.

    Parameters
    ----------
    car : CarFolder
    until_year : float or None
        End of a period that goes on, such as the year of the last reading.

    Raises
    ------
    InputFaultsError
        If a period ends before it begins.
    """
    periods = [_period(row, until_year) for row in car.sheet("climates")]
    return tuple(sorted((p for p in periods if p is not None), key=lambda p: p.since_year))


def _period(row: Row, until_year: float | None) -> ClimatePeriod | None:
    since = decimal_year(row.text("since"))
    until = decimal_year(row.text("until")) if row.text("until") else until_year
    if since is None or until is None:
        return None
    if until <= since:
        raise InputFaultsError((_ends_before(row),))
    category = next(c for c in CATEGORIES if c.name == row.text("category"))
    stated = row.number("first_year_um") if row.text("first_year_um") else None
    return ClimatePeriod(
        since_year=since,
        until_year=until,
        category=category.name,
        low_um_a=category.over_um_a if stated is None else stated,
        high_um_a=category.to_um_a if stated is None else stated,
    )


def _ends_before(row: Row) -> Fault:
    return Fault(
        file="climates.csv",
        row=row.number_in_file,
        column="until",
        value=row.text("until") or "the last reading",
        rule=f"the period begins at {row.text('since')} and must end later",
        remedy="Correct one of the two dates.",
    )
