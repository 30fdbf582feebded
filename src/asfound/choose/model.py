"""Searches over the programme, each answer checked in exact arithmetic.

An answer of the solver is rounded to a choice; one that breaks a requirement by less than the
solver's tolerance is cut off and the search goes on. On a large car the options that cannot be in
a better choice are held first.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import highspy
import numpy as np

from asfound.choose.arithmetic import both_chosen, breaks
from asfound.choose.programme import INF, Programme
from asfound.choose.relaxed_bound import RelaxedBound, relaxed_bound

_LARGE = 300  # columns from which holding most of them saves more than it takes
_WIDENED = 4  # rooms that are tried before the search goes over every column
_WIDER = 1.3  # the next search has room for a little more than the last one needed


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

    _needed = 0.0
    """Room that the last search needed, as a part of all steps of its aim; 0 before the first."""

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
            run = self._narrowed(start) or self._whole(start)
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

    def _whole(self, start: Mapping[str, str] | None) -> Run:
        """One run of the solver over every column."""
        self._set_time()
        if start is not None:
            self._begin_at(start)
        self.solver.run()
        return self._read()

    def _narrowed(self, start: Mapping[str, str] | None) -> Run | None:
        """Runs of the solver over the columns that may matter; None where that cannot be told.

        Notes
        -----
        Whatever differs from the relaxed answer in a held column has an aim above bound + room.
        So when the best choice found is no further than ``room`` from the bound it is the best
        of all; otherwise its own distance is room enough.
        """
        if self.solver.getNumCol() < _LARGE or self.scale != 1:
            return None
        # HiGHS counts the time of a programme without whole pieces from the first run of all.
        self.solver.setOptionValue("time_limit", max(0.0, self.time_limit_s))
        relaxed = relaxed_bound(self.solver)
        if relaxed is None:
            return None
        total = float(sum(abs(v) for v in self.steps.values())) or 1.0
        room = _WIDER * self._needed * total or relaxed.first_room()
        if start is not None and self.meets(start):
            room = min(room, max(0.0, self._reached_by(start) - relaxed.bound))
        try:
            run, missing = self._in_rooms(relaxed, room)
        finally:
            relaxed.let_go(self.solver)
        if run is not None and run.ended:
            self._needed = max(missing, 1.0) / total
        return run

    def _in_rooms(self, relaxed: RelaxedBound, room: float) -> tuple[Run | None, float]:
        """As :meth:`_in_room`, in a room that is wide enough."""
        for _ in range(_WIDENED):
            run, missing = self._in_room(relaxed, room)
            if run is None and relaxed.holds_any(room):
                room = 8 * room + 1
            elif run is not None and run.ended and missing > room:
                room = missing
            else:
                return run, missing
        return None, 0.0

    def _in_room(self, relaxed: RelaxedBound, room: float) -> tuple[Run | None, float]:
        """The best choice within a room, and how far it is from the bound."""
        relaxed.hold_beyond(self.solver, room)
        self._set_time()
        self.solver.run()
        run = self._read()
        if run.options is None:
            return None, 0.0
        if not run.ended:
            return replace(run, bound=relaxed.bound), 0.0
        return run, self._reached() - relaxed.bound

    def _set_time(self) -> None:
        self.solver.setOptionValue("time_limit", max(0.0, self.left_s))

    def _reached(self) -> float:
        values = self.solver.getSolution().col_value
        return float(sum(step for column, step in self.steps.items() if values[column] > 0.5))

    def _reached_by(self, options: Mapping[str, str]) -> float:
        chosen = self._columns_of(options)
        return float(sum(step for column, step in self.steps.items() if column in chosen))

    def _is_best(self, run: Run) -> bool:
        reached = self._reached()
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
        values[list(self._columns_of(start))] = 1.0
        guess = highspy.HighsSolution()
        guess.col_value = list(values)
        self.solver.setSolution(guess)

    def _columns_of(self, options: Mapping[str, str]) -> set[int]:
        """The columns that are one when these options are chosen."""
        chosen = {self.column[key] for key in options.items() if key in self.column}
        chosen |= {
            self.saving[place]
            for place, link in self.ledger.shares
            if place in self.saving and both_chosen(link, options)
        }
        return chosen | {
            done
            for place, done in self.opening.items()
            if self.ledger.openings[place].chosen(options)
        }

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
            and not any(seam.broken_by(options) for seam in self.seams)
        )

    def _cut_off(self, options: Mapping[str, str]) -> None:
        chosen = {self.column[key]: 1.0 for key in options.items()}
        self.add_row(chosen, high=len(chosen) - 1.0)
