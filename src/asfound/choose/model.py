"""The choice as a mixed-integer programme, kept in one HiGHS model whose limits can move.

Every answer of the solver is rounded to a choice and checked in exact arithmetic; one that
breaks a requirement by less than the solver's tolerance is cut off and the search goes on.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

import highspy
import numpy as np

from asfound.choose.arithmetic import Amount, Key, Ledger, both_chosen
from asfound.choose.problem import Link

_INF = highspy.kHighsInf
_SOLVER_TOTAL = 2**50  # sums up to here are exact for the solver, beyond it they are scaled


class QuietHighs(highspy.Highs):
    """HiGHS without a word on standard output, where results go.

    Its constructor ends by enabling callbacks, and that prints a banner unless it is told not to.
    """

    def __init__(self) -> None:
        super().__init__()  # type: ignore[no-untyped-call]  # highspy types only part of itself

    def enableCallbacks(self) -> None:  # noqa: N802 - highspy's name
        """Silence first, then what the constructor asks for."""
        self.setOptionValue("output_flag", False)
        super().enableCallbacks()  # type: ignore[no-untyped-call]


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


class Model:
    """One column an option and a share, one row a requirement.

    Parameters
    ----------
    ledger : Ledger
    allowed : mapping of str to tuple of str
        Options that may be chosen, by subject.
    links : tuple of Link
        All links of the problem, in the ledger's order.
    time_limit_s : float
        Seconds that all searches of this model may take together.
    """

    def __init__(
        self,
        *,
        ledger: Ledger,
        allowed: Mapping[str, tuple[str, ...]],
        links: tuple[Link, ...],
        time_limit_s: float,
    ) -> None:
        self.ledger, self.links, self.time_limit_s = ledger, links, time_limit_s
        self.solver = QuietHighs()
        self._settle_options()
        self.column: dict[Key, int] = {}
        self._saving: dict[int, int] = {}
        self._rows: dict[str, int] = {}
        self._most: dict[str, tuple[Amount, int]] = {}
        self._least: dict[str, tuple[Amount, int]] = {}
        self._scale = 1.0
        self._steps: Mapping[int, int] = {}
        self._add_options(allowed)
        self._add_links()

    def _settle_options(self) -> None:
        for name, value in {
            "mip_rel_gap": 0.0,
            "threads": 1,  # the same input gives the same answer
            "random_seed": 0,
            "mip_allow_cut_separation_at_nodes": False,  # a third faster on cars of 800 subjects
        }.items():
            self.solver.setOptionValue(name, value)

    def _add_options(self, allowed: Mapping[str, tuple[str, ...]]) -> None:
        for subject, options in allowed.items():
            for option in options:
                self.column[subject, option] = self.add_column()
            self.add_row({self.column[subject, o]: 1.0 for o in options}, low=1.0, high=1.0)

    def _add_links(self) -> None:
        for link in self.links:
            if link.kind != "shares":
                self.add_row(*self.link_row(link))
        for place, link in self.ledger.shares:
            one = self.column.get((link.subject, link.option))
            two = self.column.get((link.other_subject, link.other_option))
            if one is None or two is None or (link.subject == link.other_subject and one != two):
                continue
            both = self._saving[place] = self.add_column()
            for end in {one, two}:
                self.add_row({both: 1.0, end: -1.0}, high=0.0)

    def link_row(self, link: Link) -> tuple[dict[int, float], float, float]:
        """The row of a ``requires`` or an ``excludes``: its terms, low and high."""
        one = self.column.get((link.subject, link.option))
        two = self.column.get((link.other_subject, link.other_option))
        terms: dict[int, float] = {}
        sign = 1.0 if link.kind == "excludes" else -1.0
        for column, value in ((one, 1.0), (two, sign)):
            if column is not None:
                terms[column] = terms.get(column, 0.0) + value
        return terms, -_INF, 1.0 if link.kind == "excludes" else 0.0

    def add_column(self) -> int:
        """A new yes-or-no column."""
        place = int(self.solver.getNumCol())
        self.solver.addVar(0.0, 1.0)
        self.solver.changeColIntegrality(place, highspy.HighsVarType.kInteger)
        return place

    def add_row(self, terms: Mapping[int, float], low: float = -_INF, high: float = _INF) -> int:
        """A new row ``low ≤ Σ terms ≤ high``."""
        place = int(self.solver.getNumRow())
        columns = np.fromiter(terms, dtype=np.int32, count=len(terms))
        values = np.fromiter(terms.values(), dtype=np.float64, count=len(terms))
        self.solver.addRow(low, high, len(terms), columns, values)
        return place

    def terms(self, amount: Amount) -> dict[int, int]:
        """Steps of an amount by column, savings below zero."""
        found = {column: amount.of[key] for key, column in self.column.items() if amount.of[key]}
        for place, column in self._saving.items():
            if place in amount.saved:
                found[column] = -amount.saved[place]
        return found

    def hold(self, amount: Amount, *, least: int | None = None, most: int | None = None) -> None:
        """Set, move or lift the limits of an amount, in steps."""
        for limits, value in ((self._least, least), (self._most, most)):
            limits.pop(amount.name, None)
            if value is not None:
                limits[amount.name] = (amount, value)
        terms = self.terms(amount)
        scale = scale_of(terms.values())
        if amount.name not in self._rows:
            self._rows[amount.name] = self.add_row({c: v * scale for c, v in terms.items()})
        self.solver.changeRowBounds(
            self._rows[amount.name],
            -_INF if least is None else least * scale,
            _INF if most is None else most * scale,
        )

    def limits(self) -> dict[str, tuple[Amount, int | None, int | None]]:
        """Every limited amount with the least and the most allowed."""
        return {
            name: (amount, self._pick(self._least, name), self._pick(self._most, name))
            for name, (amount, _) in {**self._least, **self._most}.items()
        }

    @staticmethod
    def _pick(limits: Mapping[str, tuple[Amount, int]], name: str) -> int | None:
        return limits[name][1] if name in limits else None

    def restore(self, limits: Mapping[str, tuple[Amount, int | None, int | None]]) -> None:
        """Hold these limits and no others."""
        for amount, _, _ in self.limits().values():
            self.hold(amount)
        for amount, least, most in limits.values():
            self.hold(amount, least=least, most=most)

    def highest(self, amount: Amount) -> int:
        """A bound that no choice within the limits passes, in steps."""
        if amount.name in self._most:
            return self._most[amount.name][1]
        return sum(max(each) for each in self._by_subject(amount))

    def lowest(self, amount: Amount) -> int:
        """A bound that no choice goes below, in steps."""
        return sum(min(each) for each in self._by_subject(amount)) - sum(amount.saved.values())

    def _by_subject(self, amount: Amount) -> Iterable[list[int]]:
        steps: dict[str, list[int]] = {}
        for key in self.column:
            steps.setdefault(key[0], []).append(amount.of[key])
        return steps.values()

    def aim(self, *goals: tuple[Amount, int]) -> None:
        """Make the least of Σ factor · amount the aim."""
        summed: dict[int, int] = {}
        for amount, factor in goals:
            for column, value in self.terms(amount).items():
                summed[column] = summed.get(column, 0) + factor * value
        self.aim_at(summed)

    def aim_at(self, steps: Mapping[int, int]) -> None:
        """Make the least of Σ steps over the columns the aim."""
        self._scale, self._steps = scale_of(steps.values()), steps
        costs = np.zeros(self.solver.getNumCol())
        for column, value in steps.items():
            costs[column] = value * self._scale
        self.solver.changeColsCost(len(costs), np.arange(len(costs), dtype=np.int32), costs)

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
        # Sums are whole numbers of steps: within less than one step of the bound is the optimum.
        self.solver.setOptionValue("mip_abs_gap", 0.9 if self._scale == 1 else 1e-6)
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
        return Run(options=None, bound=-_INF, ended=False)

    def _is_best(self, run: Run) -> bool:
        values = self.solver.getSolution().col_value
        reached = sum(step for column, step in self._steps.items() if values[column] > 0.5)
        return reached < run.bound + 1 or reached * self._scale < run.bound * self._scale + 1e-3

    @property
    def left_s(self) -> float:
        """Seconds left to this model's searches."""
        return float(self.time_limit_s - self.solver.getRunTime())

    def allow(self, seconds: float) -> None:
        """Let the searches from now on take so many seconds together."""
        self.time_limit_s = self.solver.getRunTime() + seconds

    def bar(self, key: Key, barred: bool = True) -> None:
        """Forbid an option, or allow it again."""
        self.solver.changeColBounds(self.column[key], 0.0, 0.0 if barred else 1.0)

    def _begin_at(self, start: Mapping[str, str]) -> None:
        values = np.zeros(self.solver.getNumCol())
        for key in start.items():
            if key in self.column:
                values[self.column[key]] = 1.0
        for place, link in self.ledger.shares:
            if place in self._saving and both_chosen(link, start):
                values[self._saving[place]] = 1.0
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
        bound = info.mip_dual_bound / self._scale if math.isfinite(info.mip_dual_bound) else -_INF
        return Run(options=self._chosen() if found else None, bound=bound, ended=ended)

    def _chosen(self) -> dict[str, str]:
        values = self.solver.getSolution().col_value
        return {key[0]: key[1] for key, column in self.column.items() if values[column] > 0.5}

    def meets(self, options: Mapping[str, str]) -> bool:
        """Whether a choice keeps every limit and link, in exact arithmetic."""
        return (
            all(self.ledger.total(a, options) <= most for a, most in self._most.values())
            and all(self.ledger.total(a, options) >= least for a, least in self._least.values())
            and not any(breaks(link, options) for link in self.links)
        )

    def _cut_off(self, options: Mapping[str, str]) -> None:
        chosen = {self.column[key]: 1.0 for key in options.items()}
        self.add_row(chosen, high=len(chosen) - 1.0)


def breaks(link: Link, options: Mapping[str, str]) -> bool:
    """Whether a choice breaks a ``requires`` or an ``excludes``."""
    if options.get(link.subject) != link.option or link.kind == "shares":
        return False
    other = options.get(link.other_subject) == link.other_option
    return other if link.kind == "excludes" else not other


def scale_of(steps: Iterable[int]) -> float:
    """The factor that brings a sum of steps within what the solver tells apart; 1 if it can be."""
    total = sum(abs(v) for v in steps)
    return 1.0 if total <= _SOLVER_TOTAL else _SOLVER_TOTAL / total
