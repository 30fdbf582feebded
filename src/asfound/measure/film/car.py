"""What is known of a car: the level that its panels share, and how the works painted."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from asfound.measure.film.steady import (
    BETWEEN_STEP,
    HABIT_STEP,
    LEVEL_DOUBT_STEP,
    LEVEL_STEP,
    WEIGHT_STEP,
    beside,
    steady,
)


@dataclass(frozen=True, slots=True)
class Habits:
    """How the works painted: unevenness within (share), its length, level between (share)."""

    within: float
    length_mm: float
    between: float

    def steady(self, place: int) -> Habits:
        """The same habits, held to the grid of the panel at ``place``."""
        off = beside(place)
        return Habits(
            steady(self.within, step=HABIT_STEP, beside=off),
            steady(self.length_mm, step=HABIT_STEP, beside=off),
            steady(self.between, step=BETWEEN_STEP, beside=off),
        )


@dataclass(frozen=True, slots=True)
class CarLevel:
    """The level [µm] that panels share, as a few bell curves: means, doubts and weights."""

    level_um: tuple[float, ...]
    u_um: tuple[float, ...]
    weight: tuple[float, ...]

    @property
    def value_um(self) -> float:
        """Mean level [µm] of the heaviest curve."""
        return self.level_um[int(np.argmax(self.weight))]

    @property
    def value_u_um(self) -> float:
        """Standard uncertainty [µm] of the heaviest curve."""
        return self.u_um[int(np.argmax(self.weight))]

    def steady(self, place: int) -> CarLevel:
        """The same level, its figures held to the grid of the panel at ``place``."""
        off = beside(place)
        share = [max(round(w / WEIGHT_STEP), 1) * WEIGHT_STEP for w in self.weight]
        return CarLevel(
            tuple(steady(value, step=LEVEL_STEP, beside=off) for value in self.level_um),
            tuple(steady(u, step=LEVEL_DOUBT_STEP, beside=off) for u in self.u_um),
            tuple(w / sum(share) for w in share),
        )
