"""Searches over the programme, each answer checked in exact arithmetic.

An answer of the solver is rounded to a choice; one that breaks a requirement by less than the
solver's tolerance is cut off and the search goes on.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import highspy
import numpy as np

from asfound.choose.arithmetic import both_chosen, breaks
from asfound.choose.programme import INF, Programme


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """What one search found.

    Parameters
    ----------
    options : mapping of str to str, or None
        The best choice found; None when there is none.
    bound : float
        No choice can be better than this, in steps of the aim.
    ended : bool
        False when the time ran out before the answer was proved.
    """

    options: dict[str, str] | None
    bound: float
    ended: bool


class Model(Programme):
    """The programme with the searches over it."""

    def run(
        self,
        start: Mapping[str, str] | None = None,
        *,
        accept: Callable[[Mapping[str, str]], bool] | None = None,
    ) -> Run:
        """Search for the choice with the least aim.

        Parameters
        ----------
        start : mapping of str to str or None
            A choice within the limits to start from.
        accept : callable or None
            An exact test besides the model's own limits.
        """
        if not self.column:  # nothing may be chosen anywhere; HiGHS has no status for that
            return Run(options=None, bound=INF, ended=True)
        # Sums are whole numbers of steps: within less than one step of the bound is the optimum.
        self.solver.setOptionValue("mip_abs_gap", 0.9 if self.scale == 1 else 1e-6)
        rows = int(self.solver.getNumRow())
        run = self._search(start, accept or (lambda _: True))
        cuts = np.arange(rows, self.solver.getNumRow(), dtype=np.int32)
        if len(cuts):  # a choice cut off under these limits may be lawful under others
            self.solver.deleteRows(len(cuts), cuts)
        return run

    def _search(
        self, start: Mapping[str, str] | None, accept: Callable[[Mapping[str, str]], bool]
    ) -> Run:
        while self.left_s > 0:
            self.solver.setOptionValue("time_limit", self.left_s)
            if start is not None:
                self._begin_at(start)
            self.solver.run()
            run = self._read()
            if run.options is None:
                return run
            if run.ended and not self._is_best(run):
                # HiGHS can prove one choice optimal and hand back the one it was started from.
                if start is None:
                    return replace(run, ended=False)
                start = None
                self.solver.clearSolver()
            elif self.meets(run.options) and accept(run.options):
                return run
            else:
                self._cut_off(run.options)
        return Run(options=None, bound=-INF, ended=False)

    def _is_best(self, run: Run) -> bool:
        values = self.solver.getSolution().col_value
        reached = sum(step for column, step in self.steps.items() if values[column] > 0.5)
        return reached < run.bound + 1 or reached * self.scale < run.bound * self.scale + 1e-3

    @property
    def left_s(self) -> float:
        """Seconds left to this model's searches."""
        return float(self.time_limit_s - self.solver.getRunTime())

    def allow(self, seconds: float) -> None:
        """Let the searches from now on take so many seconds together."""
        self.time_limit_s = self.solver.getRunTime() + seconds

    def _begin_at(self, start: Mapping[str, str]) -> None:
        values = np.zeros(self.solver.getNumCol())
        for key in start.items():
            if key in self.column:
                values[self.column[key]] = 1.0
        for place, link in self.ledger.shares:
            if place in self.saving and both_chosen(link, start):
                values[self.saving[place]] = 1.0
        guess = highspy.HighsSolution()
        guess.col_value = list(values)
        self.solver.setSolution(guess)

    def _read(self) -> Run:
        status = self.solver.getModelStatus()
        info = self.solver.getInfo()
        ended = status in (
            highspy.HighsModelStatus.kOptimal,
            highspy.HighsModelStatus.kInfeasible,
            highspy.HighsModelStatus.kUnboundedOrInfeasible,
        )
        found = info.primal_solution_status == highspy.kSolutionStatusFeasible
        bound = info.mip_dual_bound / self.scale if math.isfinite(info.mip_dual_bound) else -INF
        return Run(options=self._chosen() if found else None, bound=bound, ended=ended)

    def _chosen(self) -> dict[str, str]:
        values = self.solver.getSolution().col_value
        return {key[0]: key[1] for key, column in self.column.items() if values[column] > 0.5}

    def meets(self, options: Mapping[str, str]) -> bool:
        """Whether a choice keeps every limit and link, in exact arithmetic."""
        return (
            all(self.ledger.total(a, options) <= most for a, most in self.most.values())
            and all(self.ledger.total(a, options) >= least for a, least in self.least.values())
            and not any(breaks(link, options) for link in self.links)
        )

    def _cut_off(self, options: Mapping[str, str]) -> None:
        chosen = {self.column[key]: 1.0 for key in options.items()}
        self.add_row(chosen, high=len(chosen) - 1.0)
