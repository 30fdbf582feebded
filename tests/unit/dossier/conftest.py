"""A small invented car for the dossier's tests."""

from __future__ import annotations

import math
from types import MappingProxyType

import pytest

from asfound.measure.film import FilmReading, read_film
from asfound.record.convert.film import film_survey
from asfound.record.folder import CarFolder, Sheet

DOOR = "POLYGON ((0 0, 960 0, 1000 40, 1000 640, 960 700, 40 700, 0 660, 0 0))"
WING = (
    "POLYGON ((0 300, 120 60, 420 0, 900 20, 1180 120, 1180 620, 980 620, 940 480, 800 390,"
    " 620 390, 480 480, 440 620, 40 620, 0 300))"
)


def film_rows() -> tuple[tuple[str, ...], ...]:
    """Three readings a spot on a grid; the door's right part is filled, the boot is not read."""
    rows: list[tuple[str, ...]] = []
    for panel, spots in {
        "left door": [(x, y) for x in (120, 370, 620, 870) for y in (120, 350, 580)],
        "bonnet": [(x, y) for x in (120, 370, 620, 870) for y in (120, 350, 580)],
        "left wing": [(150, 200), (420, 120), (700, 200), (1000, 200), (1080, 500)],
    }.items():
        for n, (x, y) in enumerate(spots, start=1):
            film = 120 + 6 * math.sin(x / 90 + y / 70)
            film += 700 if panel == "left door" and x > 700 else 0
            rows += [
                (panel, str(n), str(x), str(y), f"{film + d:.1f}", "A") for d in (-1.2, 0.3, 0.9)
            ]
    return tuple(rows)


def sheets() -> dict[str, Sheet]:
    """Tables of the car by name."""
    return {
        "car": Sheet(
            columns=("marque", "model", "body_style", "built", "currency"),
            rows=(("Selvany", "Orla <&> Ø", "open two-seater", "1963~", "EUR"),),
        ),
        "panels": Sheet(
            columns=("panel", "section", "substrate", "outline_wkt", "view", "placement"),
            rows=(
                ("bonnet", "top", "aluminium", DOOR, "top", ""),
                ("left door", "left", "steel", DOOR, "left", ""),
                ("left wing", "left", "steel", WING, "left", ""),
                ("boot & lid", "top", "unknown", DOOR, "top", ""),
            ),
        ),
        "film": Sheet(
            columns=("panel", "spot", "x_mm", "y_mm", "thickness_um", "gauge"), rows=film_rows()
        ),
        "shims": Sheet(
            columns=("gauge", "nominal_um", "read_um"),
            rows=tuple(
                ("A", str(nominal), f"{nominal * 1.01 + 2 + d:.1f}")
                for nominal in (0, 125, 500, 1000)
                for d in (-0.8, 0.1, 0.7)
            ),
        ),
        "options": Sheet(
            columns=("subject", "option", "treatment", "kept", "grade", "cost", "hours_painter"),
            rows=(
                ("bonnet", "leave it", "leave as found", "1", "1", "0", "0"),
                ("bonnet", "paint it", "refinish", "0", "5", "900", "34"),
                ("left door", "leave it", "leave as found", "1", "1", "0", "0"),
                ("left door", "tone it in", "reintegrate", "0.9", "3", "250", "9"),
                ("front brakes", "overhaul", "overhaul", "0.6", "4", "400", "0"),
            ),
        ),
        "subjects": Sheet(
            columns=("subject", "weight", "min_grade", "zone"),
            rows=(
                ("bonnet", "4", "", "outside"),
                ("left door", "3", "2", "outside"),
                ("front brakes", "1", "", ""),
            ),
        ),
    }


def car_of(**changes: Sheet | None) -> CarFolder:
    """The car with some tables changed or left out."""
    tables = {**sheets(), **changes}
    return CarFolder(
        sheets={name: sheet for name, sheet in tables.items() if sheet is not None},
        brief={"name": "Show its age", "cost_max": 1000, "min_grade": {"outside": 1}},
        package=MappingProxyType({"name": "selvany-orla", "invented": True}),
    )


@pytest.fixture(scope="session")
def car() -> CarFolder:
    return car_of()


@pytest.fixture(scope="session")
def reading(car: CarFolder) -> FilmReading:
    return read_film(film_survey(car))
