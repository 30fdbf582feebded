"""Readings of the finish, the colour, the polish, the gaps and the metal of a car."""

from __future__ import annotations

from collections.abc import Sequence

from asfound.measure.base_of_films import CarBuild, ExpectedFilm, expected_film
from asfound.measure.colour import CarColour, read_colour
from asfound.measure.film import FilmReading, read_film
from asfound.measure.gaps import GapResult, read_gaps
from asfound.measure.metal import CarMetal, read_metal
from asfound.measure.polish import STAY_PROBABILITY, PolishResult, read_polish
from asfound.record.convert.colour import colour_survey
from asfound.record.convert.film import film_survey
from asfound.record.convert.gaps import gap_survey
from asfound.record.convert.metal import metal_survey
from asfound.record.convert.polish import polish_survey
from asfound.record.derived.kept import kept, key_of
from asfound.record.folder import CarFolder

FILM_TABLES = ("panels", "film", "shims")
COLOUR_TABLES = ("panels", "colour", "instruments", "neighbours")
POLISH_TABLES = (*FILM_TABLES, "polish", "polish_floors")
GAP_TABLES = ("edges", "gaps", "instruments")
METAL_TABLES = ("car", "panels", "metal", "instruments", "sheet_nominals", "climates")


def film_reading(folder: CarFolder) -> FilmReading:
    """Reading of the finish.

    Raises
    ------
    InputFaultsError
        If the car has no film reading.
    """
    key = key_of("film_reading", folder, FILM_TABLES)
    return kept(key, lambda: read_film(film_survey(folder)))


def expected_build(base: Sequence[CarBuild], *, kind: str, year: float) -> ExpectedFilm:
    """Level of film expected of a car of that kind and year from the workshop's own base."""
    cars = [[b.car, b.kind, b.year, b.level_um, b.u_log] for b in base]
    key = key_of("expected_build", CarFolder(), (), base=cars, kind=kind, year=year)
    return kept(key, lambda: expected_film(base, kind=kind, year=year))


def colour_reading(folder: CarFolder) -> CarColour:
    """Reading of the colour.

    Raises
    ------
    InputFaultsError
        If the car has no colour reading.
    """
    key = key_of("colour_reading", folder, COLOUR_TABLES)
    return kept(key, lambda: read_colour(colour_survey(folder)))


def polish_reading(
    folder: CarFolder, *, stay_probability: float = STAY_PROBABILITY
) -> PolishResult:
    """What passes of polish take, what is left above the floors, and how many may follow.

    Raises
    ------
    NotEnoughEvidenceError
        If nothing was polished and no floor is set.
    InputError
        If the probability is not 0.5 or more and below 1.
    """
    key = key_of("polish_reading", folder, POLISH_TABLES, stay_probability=stay_probability)
    return kept(key, lambda: read_polish(polish_survey(folder), stay_probability=stay_probability))


def gaps_reading(folder: CarFolder) -> GapResult:
    """Gap and flush of every edge, and how twins mirror.

    Raises
    ------
    NotEnoughEvidenceError
        If no edge is named and no gap was read.
    """
    key = key_of("gaps_reading", folder, GAP_TABLES)
    return kept(key, lambda: read_gaps(gap_survey(folder)))


def metal_reading(folder: CarFolder) -> CarMetal:
    """Loss and remaining life of the sheet metal that was read.

    Raises
    ------
    InputFaultsError
        If the car has no reading of sheet thickness, or what it is held against cannot be read.
    """
    key = key_of("metal_reading", folder, METAL_TABLES)
    return kept(key, lambda: read_metal(metal_survey(folder)))
