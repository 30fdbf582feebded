"""A plan: who does what, where, from when to when; how good it is; and a way to draw it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

Progress = Callable[[float], None]
"""Told how far the work is, 0–1; it may raise ``StoppedError`` to stop the work."""


def part_of(progress: Progress | None, begins: float, ends: float) -> Progress | None:
    """Progress of a part of the work, which tells its own 0–1, within the whole."""
    if progress is None:
        return None
    return lambda share: progress(begins + (ends - begins) * share)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """One task in its place.

    Parameters
    ----------
    task : str
    start_min, end_min : int
        From the plan's first midnight [min].
    people : tuple of str
    """

    task: str
    start_min: int
    end_min: int
    people: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Every task in its place.

    Parameters
    ----------
    placed : tuple of Placed
        In the order of their starts.
    finish_min : int
        When the last task ends [min from the plan's first midnight].
    finish_least_min : int
        No plan can finish before it; proved [min].
    days, days_least : float
        The same two in working days of the shop from the plan's first.
    cars : mapping of str to int
        Finish of each car [min].
    cost, cost_least : int or None
        Of several cars what was made small (`asfound.plan.cars.Cars`), and what no plan goes
        below; None where the finish was.
    """

    placed: tuple[Placed, ...]
    finish_min: int
    finish_least_min: int
    days: float
    days_least: float
    cars: Mapping[str, int] = field(default_factory=dict)
    cost: int | None = None
    cost_least: int | None = None

    @property
    def proved(self) -> bool:
        """Whether no plan can be better: finish earlier, or cost less over several cars."""
        if self.cost is not None and self.cost_least is not None:
            return self.cost_least >= self.cost
        return self.finish_least_min >= self.finish_min

    @property
    def gap(self) -> float:
        """Share by which what was made small might still be less, 0–1."""
        if self.cost is not None and self.cost_least is not None:
            return (self.cost - self.cost_least) / self.cost if self.cost else 0.0
        return (self.days - self.days_least) / self.days if self.days else 0.0

    def of(self, task: str) -> Placed:
        """Place of a task."""
        return next(placed for placed in self.placed if placed.task == task)
