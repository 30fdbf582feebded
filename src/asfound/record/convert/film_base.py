"""Rows of the workshop's bands and base become the core's types, and bands the fields of rows."""

from __future__ import annotations

import math
from typing import Any, cast

from asfound.measure.base_of_films import About, CarBuild, Status
from asfound.measure.base_of_films import FilmBand as Band
from asfound.record.models import FilmBand, FilmBuild


def band_of(row: FilmBand) -> Band:
    """Band as the core has it."""
    return Band(
        about=cast(About, row.about),
        era=row.era,
        low_um=row.low_um,
        high_um=math.inf if row.high_um is None else row.high_um,
        source=row.source,
        status=cast(Status, row.status),
        note=row.note,
        marque=row.marque,
        first_year=row.first_year,
        last_year=row.last_year,
    )


def fields_of_band(band: Band) -> dict[str, Any]:
    """Fields of the row that holds a band."""
    return {
        "about": band.about,
        "era": band.era.strip(),
        "low_um": band.low_um,
        "high_um": None if math.isinf(band.high_um) else band.high_um,
        "source": band.source.strip(),
        "status": band.status,
        "note": band.note.strip(),
        "marque": band.marque.strip(),
        "first_year": band.first_year,
        "last_year": band.last_year,
    }


def build_of(row: FilmBuild) -> CarBuild:
    """Car of the base as the core has it; its name is the car's in addresses."""
    return CarBuild(
        car=row.car.slug, kind=row.kind, year=row.year, level_um=row.level_um, u_log=row.u_log
    )
