"""Panels, film readings and shims of a car become a film survey."""

from __future__ import annotations

import shapely
from shapely import MultiPoint, Polygon

from asfound.base import InputError
from asfound.measure.film import FilmSurvey, Panel, Reading, ShimReading
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder

_MARGIN_MM = 50.0
"""Where nobody drew the panel, it is taken to reach this far beyond its spots."""


def film_survey(car: CarFolder) -> FilmSurvey:
    """Film survey of the car.

    Where the car has no ``panels`` table, each panel is taken to be the box around its spots.

    Raises
    ------
    InputFaultsError
        If the car has no film reading at all.
    """
    readings = tuple(
        Reading(
            panel=row.text("panel"),
            spot=row.text("spot"),
            x_mm=row.number("x_mm"),
            y_mm=row.number("y_mm"),
            thickness_um=row.number("thickness_um"),
            gauge=row.text("gauge"),
        )
        for row in car.sheet("film")
    )
    if not readings:
        raise InputFaultsError(
            (
                Fault(
                    file="film.csv",
                    rule="the car has no film reading",
                    remedy="Add film.csv with panel, spot, x_mm, y_mm and thickness_um.",
                ),
            )
        )
    shims = tuple(
        ShimReading(
            nominal_um=row.number("nominal_um"),
            read_um=row.number("read_um"),
            gauge=row.text("gauge"),
        )
        for row in car.sheet("shims")
    )
    return FilmSurvey(panels=panels_of(car), readings=readings, shims=shims)


def panel_of(car: CarFolder, name: str) -> Panel:
    """Panel of that name.

    Raises
    ------
    InputError
        If the car has no such panel.
    """
    panels = panels_of(car)
    found = next((panel for panel in panels if panel.panel == name), None)
    if found is None:
        names = ", ".join(panel.panel for panel in panels) or "none"
        raise InputError(field="panel", got=name, allowed=f"one of the car's panels ({names})")
    return found


def panels_of(car: CarFolder) -> tuple[Panel, ...]:
    """Panels as drawn, or as boxes around their spots where nobody drew any."""
    if "panels" in car.sheets:
        return tuple(
            Panel(
                panel=row.text("panel"),
                outline=_outline(row.text("outline_wkt")),
                substrate=row.text("substrate"),  # type: ignore[arg-type]  # checked on reading
            )
            for row in car.sheet("panels")
        )
    places: dict[str, list[tuple[float, float]]] = {}
    for row in car.sheet("film"):
        spot = (row.number("x_mm"), row.number("y_mm"))
        places.setdefault(row.text("panel"), []).append(spot)
    return tuple(
        Panel(panel=panel, outline=shapely.box(*MultiPoint(spots).buffer(_MARGIN_MM).bounds))
        for panel, spots in places.items()
    )


def _outline(wkt: str) -> Polygon:
    shape = shapely.from_wkt(wkt)
    assert isinstance(shape, Polygon), "outlines are checked when the table is read"
    return shape
