"""One surveyed car of the base, and what is expected of a new one."""

from __future__ import annotations

import math
from dataclasses import dataclass

from asfound.base import Estimate, InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class CarBuild:
    """A surveyed car's own level of film, read as undisturbed, given with consent.

    Parameters
    ----------
    car : str
        Its name in the base.
    kind : str
        The kind of car or finish by which the workshop groups, such as "hand-finished saloon".
    year : float
        Year built.
    level_um : float
        Level of undisturbed film over the car, µm, more than zero.
    u_log : float
        Standard uncertainty of its natural logarithm, more than zero (0.05 is about 5 %).
    """

    car: str
    kind: str
    year: float
    level_um: float
    u_log: float

    def __post_init__(self) -> None:
        for name in ("level_um", "u_log"):
            got = getattr(self, name)
            if not (math.isfinite(got) and got > 0):
                raise InputError(field=name, got=got, allowed="more than zero")
        if not 1850 <= self.year <= 2200:
            raise InputError(field="year", got=self.year, allowed="a year between 1850 and 2200")


@dataclass(frozen=True, slots=True, kw_only=True)
class ExpectedFilm:
    """The level expected of a new car, before it is read.

    ``level_um`` is the median, ``low_um`` to ``high_um`` hold the new car's own level with
    probability ``coverage``; ``log_level`` is the same on the natural-log scale. ``kind_cars_n``
    of the ``cars_n`` cars of the base are of its kind.
    """

    level_um: float
    low_um: float
    high_um: float
    coverage: float
    log_level: Estimate
    cars_n: int
    kind_cars_n: int

    @property
    def words(self) -> str:
        """One sentence that says on how much the expectation rests."""
        if not self.cars_n:
            rests = "it rests on no car, only on the program's wide starting guess"
        else:
            cars = "1 car" if self.cars_n == 1 else f"{self.cars_n} cars"
            rests = f"it rests on {cars} of this workshop, {self.kind_cars_n} of this kind"
        return (
            f"Expected {self.level_um:.0f} µm, {self.low_um:.0f} to {self.high_um:.0f} µm "
            f"({self.coverage * 100:.0f} %); {rests}."
        )
