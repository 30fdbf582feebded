"""What the workshop's own cars let expect of one car's film, ready to be shown."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.base import Estimate
from asfound.desk.survey.strips import Strip, place, strip
from asfound.measure.base_of_films import ExpectedFilm
from asfound.record.convert.years import built_years, middle_year
from asfound.record.derived import expected_build
from asfound.record.models import Car
from asfound.record.reads import build_given, builds_beside


@dataclass(frozen=True, slots=True, kw_only=True)
class Expectation:
    """The expected level, and whether the car's and a panel's lie "within", "below" or "above"."""

    film: ExpectedFilm
    kind: str
    year: float
    lies: str
    panel_lies: str
    strip: Strip
    middle: str


def expectation(
    car: Car, level: Estimate | None, *, panel_um: float | None = None, kind: str = ""
) -> Expectation | None:
    """What to expect of the car, itself left out; ``None`` where its year is not known."""
    given = build_given(car)
    year = given.year if given else middle_year(built_years(car.built))
    if year is None:
        return None
    kind = kind or (given.kind if given else car.body_style) or "not named"
    film = expected_build(builds_beside(car), kind=kind, year=year)
    return Expectation(
        film=film,
        kind=kind,
        year=year,
        lies=_lies(film, level.value if level else None),
        panel_lies=_lies(film, panel_um),
        strip=strip(film.low_um, film.high_um),
        middle=place(film.level_um),
    )


def _lies(film: ExpectedFilm, um: float | None) -> str:
    if um is None:
        return ""
    if film.low_um <= um <= film.high_um:
        return "within"
    return "below" if um < film.low_um else "above"
