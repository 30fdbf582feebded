"""What a new plan moves against the one that people act on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from asfound.record.results.shop_plan import PlannedCar, PlannedShop, PlannedTask

LEAST_MOVE_H = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Move:
    """A task whose place changes; ``days`` is how much later it starts, negative for earlier."""

    before: PlannedTask
    after: PlannedTask

    @property
    def days(self) -> float:
        """Days by the clock."""
        return (self.after.start - self.before.start).total_seconds() / 86_400

    @property
    def hands_over(self) -> bool:
        """Whether other people do it."""
        return self.before.people != self.after.people


@dataclass(frozen=True, slots=True, kw_only=True)
class CarMove:
    """A car before and after; ``before`` is ``None`` for one that was not planned."""

    before: PlannedCar | None
    after: PlannedCar

    @property
    def chances(self) -> list[tuple[str, date | None, date, int]]:
        """Chance in words, day before, day after, and days between."""
        told: list[tuple[str, date | None, date, int]] = []
        for name, words in (("p50", "50 %"), ("p80", "80 %"), ("p95", "95 %")):
            was = getattr(self.before, name) if self.before else None
            now = getattr(self.after, name)
            told.append((words, was, now, (now - was).days if was else 0))
        return told


@dataclass(frozen=True, slots=True, kw_only=True)
class Moves:
    """All that changes."""

    moved: tuple[Move, ...]
    new: tuple[PlannedTask, ...]
    gone: tuple[PlannedTask, ...]
    stay_n: int
    cars: tuple[CarMove, ...]


def moves_between(before: PlannedShop | None, after: PlannedShop) -> Moves:
    """What changes from one plan to another, the largest move first."""
    was = before.by_key if before else {}
    now = after.by_key
    pairs = [Move(before=was[key], after=task) for key, task in now.items() if key in was]
    moved = [pair for pair in pairs if pair.before.place != pair.after.place and _counts(pair)]
    cars = {car.car: car for car in before.cars} if before else {}
    return Moves(
        moved=tuple(sorted(moved, key=lambda pair: -abs(pair.days))),
        new=tuple(task for key, task in now.items() if key not in was),
        gone=tuple(task for key, task in was.items() if key not in now),
        stay_n=len(pairs) - len(moved),
        cars=tuple(CarMove(before=cars.get(car.car), after=car) for car in after.cars),
    )


def _counts(pair: Move) -> bool:
    """Whether people have to hear of it.

    What has begun stays; that its rest is reckoned from now is no move. Nor is a shift of less
    than ``LEAST_MOVE_H``: each finished job changes the hours of those to come by a little.
    """
    if pair.after.begun:
        return False
    before, after = pair.before, pair.after
    shifts = abs(pair.days) * 24 >= LEAST_MOVE_H
    return shifts or before.people != after.people or before.bay != after.bay
