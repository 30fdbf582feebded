"""The workshop's own base of film builds: what to expect of a new car; and others' bands."""

from asfound.measure.base_of_films.bands import BANDS, DISAGREE, About, FilmBand, Status
from asfound.measure.base_of_films.builds import CarBuild, ExpectedFilm
from asfound.measure.base_of_films.expect import expected_film
from asfound.measure.base_of_films.priors import BasePriors

__all__ = [
    "BANDS",
    "DISAGREE",
    "About",
    "BasePriors",
    "CarBuild",
    "ExpectedFilm",
    "FilmBand",
    "Status",
    "expected_film",
]
