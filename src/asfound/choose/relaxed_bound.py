"""What the programme is worth when pieces may be split, and which options that rules out.

Without whole pieces the programme is solved in a few milliseconds. Its answer bounds the true one,
and its reduced costs tell for each option by how much at least the aim worsens if that option is
turned against it. What worsens the aim by more than the best choice in hand is away from the bound
can be in no better choice, so the search need only look at the rest.
"""

from __future__ import annotations

from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

_WHOLE = 0.5
_FIRST_SHARE = 0.1  # of the columns that cost something to turn; the rest is tried first
_MARGIN = 1.0  # one step of the aim, far above what the solver's rounding can amount to


@dataclass(frozen=True, slots=True, kw_only=True)
class RelaxedBound:
    """The bound, and what each column costs at least when it is turned.

    Parameters
    ----------
    bound : float
        No choice has a lower aim.
    turning : array of float, shape (columns,)
        By how much the aim rises at least when a column takes the other value.
    at : array of float, shape (columns,)
        The column's value in the answer with split pieces.
    lower, upper : array of float, shape (columns,)
        The columns' own bounds.
    """

    bound: float
    turning: NDArray[np.float64]
    at: NDArray[np.float64]
    lower: NDArray[np.float64]
    upper: NDArray[np.float64]

    def first_room(self) -> float:
        """A room to begin with: a tenth of the columns that cost something to turn lie in it."""
        costly = self.turning[self.turning > _MARGIN]
        return float(np.quantile(costly, _FIRST_SHARE)) if len(costly) else _MARGIN

    def holds_any(self, room: float) -> bool:
        """Whether any column costs more than ``room`` to turn."""
        return bool((self.turning > room + _MARGIN).any())

    def hold_beyond(self, solver: highspy.Highs, room: float) -> None:
        """Hold every column that costs more than ``room`` to turn."""
        held = self.turning > room + _MARGIN
        low = np.where(held & (self.at > _WHOLE), self.upper, self.lower)
        high = np.where(held & (self.at < _WHOLE), self.lower, self.upper)
        _set_bounds(solver, low, high)

    def let_go(self, solver: highspy.Highs) -> None:
        """Give the columns their own bounds again."""
        _set_bounds(solver, self.lower, self.upper)


def relaxed_bound(solver: highspy.Highs) -> RelaxedBound | None:
    """The bound of the programme as it stands; None if it cannot be had."""
    solver.setOptionValue("solve_relaxation", True)
    solver.run()
    solver.setOptionValue("solve_relaxation", False)
    if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    programme, solution = solver.getLp(), solver.getSolution()
    return RelaxedBound(
        bound=float(solver.getInfo().objective_function_value),
        turning=np.abs(np.array(solution.col_dual)),
        at=np.array(solution.col_value),
        lower=np.array(programme.col_lower_),
        upper=np.array(programme.col_upper_),
    )


def _set_bounds(solver: highspy.Highs, low: NDArray[np.float64], high: NDArray[np.float64]) -> None:
    places = np.arange(len(low), dtype=np.int32)
    solver.changeColsBounds(len(places), places, low, high)
