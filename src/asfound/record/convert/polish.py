"""Polish readings, floors, film and shims of a car become a polish survey."""

from __future__ import annotations

from collections.abc import Mapping

from asfound.measure.film import FilmSurvey, ShimReading
from asfound.measure.polish import Floor, PanelFloor, PolishReading, PolishSurvey
from asfound.record.convert.film import film_survey
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder, Row


def polish_survey(car: CarFolder) -> PolishSurvey:
    """Polish survey of the car.

    Raises
    ------
    InputFaultsError
        If a floor is zero.
    """
    places = _places(car)
    return PolishSurvey(
        readings=tuple(_reading(row, places) for row in car.sheet("polish")),
        floors=tuple(_floor(row) for row in car.sheet("polish_floors")),
        film=_film(car),
        film_days=_film_days(car),
    )


def _places(car: CarFolder) -> dict[tuple[str, str], tuple[float, float]]:
    """Where the film readings have a spot: a polish reading of it need not say so again."""
    return {
        (row.text("panel"), row.text("spot")): (row.number("x_mm"), row.number("y_mm"))
        for row in car.sheet("film")
    }


def _reading(row: Row, places: Mapping[tuple[str, str], tuple[float, float]]) -> PolishReading:
    x_mm, y_mm = _or_none(row, "x_mm"), _or_none(row, "y_mm")
    if x_mm is None or y_mm is None:
        x_mm, y_mm = places.get((row.text("panel"), row.text("spot")), (None, None))
    return PolishReading(
        panel=row.text("panel"),
        area=row.text("area"),
        spot=row.text("spot"),
        before_um=row.number("before_um"),
        after_um=row.number("after_um"),
        passes_n=int(row.number("passes")),
        process=row.text("process"),
        gauge=row.text("gauge"),
        day=row.text("taken_at")[:10],
        x_mm=x_mm,
        y_mm=y_mm,
    )


def _or_none(row: Row, column: str) -> float | None:
    return row.number(column) if row.text(column) else None


def _floor(row: Row) -> PanelFloor:
    floor_um = row.number("floor_um")
    if floor_um == 0:
        raise InputFaultsError(
            (
                Fault(
                    file="polish_floors.csv",
                    row=row.number_in_file,
                    column="floor_um",
                    value=row.text("floor_um"),
                    rule="a floor must be more than zero: at zero the metal is bare",
                    remedy="Give the film in µm that must stay, or delete the row.",
                ),
            )
        )
    floor = Floor(area=row.text("area"), film_um=floor_um, basis=row.text("basis"))  # type: ignore[arg-type]  # checked on reading
    return PanelFloor(panel=row.text("panel"), floor=floor, source=row.text("source"))


def _film(car: CarFolder) -> FilmSurvey:
    if len(car.sheet("film")):
        return film_survey(car)
    shims = tuple(
        ShimReading(
            nominal_um=row.number("nominal_um"),
            read_um=row.number("read_um"),
            gauge=row.text("gauge"),
        )
        for row in car.sheet("shims")
    )
    return FilmSurvey(panels=(), readings=(), shims=shims)


def _film_days(car: CarFolder) -> dict[tuple[str, str], str]:
    """First day of each spot; one reading without a day leaves its spot without one."""
    days: dict[tuple[str, str], list[str]] = {}
    for row in car.sheet("film"):
        days.setdefault((row.text("panel"), row.text("spot")), []).append(row.text("taken_at")[:10])
    return {spot: min(found) for spot, found in days.items() if all(found)}
