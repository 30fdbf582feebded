"""What is computed of a car for its dossier, without a database.

The stored record keeps such results under a hash and gives them to the dossier; a folder alone
has none, and Django need not be there for it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

from asfound.base import NoSolutionError, NotEnoughEvidenceError
from asfound.choose import Choice, Front, Problem, Why, choose, explain, front
from asfound.measure.film import FilmReading, read_film
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.film import film_survey
from asfound.record.folder import CarFolder

Progress = Callable[[float], None]
_FRONT_POINTS = 24


class Decided(Protocol):
    """A choice with its front and reasons; or, without a choice, what clashes."""

    @property
    def choice(self) -> Choice | None:
        """The choice; ``None`` when nothing satisfies the brief."""

    @property
    def front(self) -> Front | None:
        """What is kept against cost."""

    @property
    def whys(self) -> tuple[Why, ...]:
        """A reason for each piece."""

    @property
    def clash(self) -> tuple[str, ...]:
        """The requirements that cannot hold together."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Decided:
    choice: Choice | None
    front: Front | None
    whys: tuple[Why, ...]
    clash: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Computed:
    """Results of a car; ``None`` where the tables for them are not there."""

    reading: FilmReading | None
    reading_missing: str
    problem: Problem | None
    decided: Decided | None


def compute(
    car: CarFolder,
    *,
    reading: FilmReading | None,
    result: Decided | None,
    progress: Progress,
) -> Computed:
    """Results of the car, computed where they were not given."""
    missing = ""
    if reading is None and len(car.sheet("film")):
        try:
            reading = read_film(film_survey(car))
        except NotEnoughEvidenceError as error:
            missing = str(error)
    progress(0.3)
    problem = choice_problem(car) if len(car.sheet("options")) else None
    if result is None and problem is not None:
        result = decide(problem)
    progress(0.8)
    return Computed(reading=reading, reading_missing=missing, problem=problem, decided=result)


def decide(problem: Problem) -> Decided:
    """Choice, front and reasons; what clashes when there is no choice."""
    try:
        choice = choose(problem)
    except NoSolutionError as error:
        return _Decided(choice=None, front=None, whys=(), clash=error.clash)
    return _Decided(
        choice=choice,
        front=front(problem, points=_FRONT_POINTS),
        whys=explain(problem, choice),
        clash=(),
    )
