"""The choice as a mixed-integer programme, kept in one HiGHS model whose limits can move."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import highspy
import numpy as np

from asfound.choose.arithmetic import Amount, Key, Ledger
from asfound.choose.couplings import Seam, forbidden_blocks
from asfound.choose.problem import Link
from asfound.choose.quiet import QuietHighs

INF = highspy.kHighsInf
_SOLVER_TOTAL = 2**50  # sums up to here are exact for the solver, beyond it they are scaled


class Programme:
    """One column an option and a share, one row a requirement.

    Parameters
    ----------
    ledger : Ledger
    allowed : mapping of str to tuple of str
        Options that may be chosen, by subject.
    links : tuple of Link
        All links of the problem, in the ledger's order.
    seams : tuple of Seam
    time_limit_s : float
        Seconds that all searches of this model may take together.
    """

    def __init__(
        self,
        *,
        ledger: Ledger,
        allowed: Mapping[str, tuple[str, ...]],
        links: tuple[Link, ...],
        seams: tuple[Seam, ...] = (),
        time_limit_s: float,
    ) -> None:
        self.ledger, self.links, self.seams = ledger, links, seams
        self.time_limit_s = time_limit_s
        self.solver = QuietHighs()
        self._settle_options()
        self.column: dict[Key, int] = {}
        self.saving: dict[int, int] = {}
        self.opening: dict[int, int] = {}
        self._rows: dict[str, int] = {}
        self.most: dict[str, tuple[Amount, int]] = {}
        self.least: dict[str, tuple[Amount, int]] = {}
        self.scale = 1.0
        self.steps: Mapping[int, int] = {}
        self._add_options(allowed)
        self._add_links()
        self._add_openings()
        for seam in self.seams:
            for row in self.seam_rows(seam):
                self.add_row(row, high=1.0)

    def _settle_options(self) -> None:
        for name, value in {
            "mip_rel_gap": 0.0,
            "threads": 1,  # the same input gives the same answer
            "random_seed": 0,
            "mip_allow_cut_separation_at_nodes": False,  # a third faster on cars of 800 subjects
            "mip_allow_restart": False,  # another third: what restarts find is held already
        }.items():
            self.solver.setOptionValue(name, value)

    def _add_options(self, allowed: Mapping[str, tuple[str, ...]]) -> None:
        for subject, options in allowed.items():
            for option in options:
                self.column[subject, option] = self.add_column()
            self.add_row({self.column[subject, o]: 1.0 for o in options}, low=1.0, high=1.0)

    def _add_links(self) -> None:
        for link in self.links:
            if link.binds:
                self.add_row(*self.link_row(link))
        for place, link in self.ledger.shares:
            one = self.column.get((link.subject, link.option))
            two = self.column.get((link.other_subject, link.other_option))
            if one is None or two is None or (link.subject == link.other_subject and one != two):
                continue
            both = self.saving[place] = self.add_column()
            for end in {one, two}:
                self.add_row({both: 1.0, end: -1.0}, high=0.0)

    def _add_openings(self) -> None:
        """A column for each opening: one as soon as any of its users is chosen."""
        for place, opening in enumerate(self.ledger.openings):
            by_subject: dict[str, list[int]] = {}
            for key in opening.users:
                if key in self.column:
                    by_subject.setdefault(key[0], []).append(self.column[key])
            if len(by_subject) < 2:  # nobody to share with
                continue
            done = self.opening[place] = self.add_column()
            for users in by_subject.values():
                self.add_row({**dict.fromkeys(users, 1.0), done: -1.0}, high=0.0)

    def seam_rows(self, seam: Seam) -> list[dict[int, float]]:
        """Sets of columns of which a seam lets at most one be chosen."""
        here, there = (
            [o for s, o in self.column if s == name] for name in (seam.subject, seam.other_subject)
        )
        return [
            dict.fromkeys(
                [self.column[seam.subject, o] for o in sorted(block)]
                + [self.column[seam.other_subject, o] for o in sorted(others)],
                1.0,
            )
            for block, others in forbidden_blocks(seam, here, there)
        ]

    def link_row(self, link: Link) -> tuple[dict[int, float], float, float]:
        """The row of a ``requires`` or an ``excludes``: its terms, low and high."""
        one = self.column.get((link.subject, link.option))
        two = self.column.get((link.other_subject, link.other_option))
        terms: dict[int, float] = {}
        sign = 1.0 if link.kind == "excludes" else -1.0
        for column, value in ((one, 1.0), (two, sign)):
            if column is not None:
                terms[column] = terms.get(column, 0.0) + value
        return terms, -INF, 1.0 if link.kind == "excludes" else 0.0

    def add_column(self) -> int:
        """A new yes-or-no column."""
        place = int(self.solver.getNumCol())
        self.solver.addVar(0.0, 1.0)
        self.solver.changeColIntegrality(place, highspy.HighsVarType.kInteger)
        return place

    def add_row(self, terms: Mapping[int, float], low: float = -INF, high: float = INF) -> int:
        """A new row ``low ≤ Σ terms ≤ high``."""
        place = int(self.solver.getNumRow())
        columns = np.fromiter(terms, dtype=np.int32, count=len(terms))
        values = np.fromiter(terms.values(), dtype=np.float64, count=len(terms))
        self.solver.addRow(low, high, len(terms), columns, values)
        return place

    def terms(self, amount: Amount) -> dict[int, int]:
        """Steps of an amount by column, savings below zero."""
        found = {column: amount.of[key] for key, column in self.column.items() if amount.of[key]}
        for place, column in self.saving.items():
            if place in amount.saved:
                found[column] = -amount.saved[place]
        for place, done in self.opening.items():
            steps = amount.opened.get(place, 0)
            if steps:
                found[done] = steps
                for key in self.ledger.openings[place].users:
                    if key in self.column:
                        found[self.column[key]] = found.get(self.column[key], 0) - steps
        return found

    def hold(self, amount: Amount, *, least: int | None = None, most: int | None = None) -> None:
        """Set, move or lift the limits of an amount, in steps."""
        for limits, value in ((self.least, least), (self.most, most)):
            limits.pop(amount.name, None)
            if value is not None:
                limits[amount.name] = (amount, value)
        terms = self.terms(amount)
        scale = scale_of(terms.values())
        if amount.name not in self._rows:
            self._rows[amount.name] = self.add_row({c: v * scale for c, v in terms.items()})
        self.solver.changeRowBounds(
            self._rows[amount.name],
            -INF if least is None else least * scale,
            INF if most is None else most * scale,
        )

    def limits(self) -> dict[str, tuple[Amount, int | None, int | None]]:
        """Every limited amount with the least and the most allowed."""
        return {
            name: (amount, self._pick(self.least, name), self._pick(self.most, name))
            for name, (amount, _) in {**self.least, **self.most}.items()
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
        if amount.name in self.most:
            return self.most[amount.name][1]
        return sum(max(each) for each in self._by_subject(amount))

    def lowest(self, amount: Amount) -> int:
        """A bound that no choice goes below, in steps."""
        return sum(min(each) for each in self._by_subject(amount)) - self.ledger.most_saved(amount)

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
        self.scale, self.steps = scale_of(steps.values()), steps
        costs = np.zeros(self.solver.getNumCol())
        for column, value in steps.items():
            costs[column] = value * self.scale
        self.solver.changeColsCost(len(costs), np.arange(len(costs), dtype=np.int32), costs)

    def bar(self, key: Key, barred: bool = True) -> None:
        """Forbid an option, or allow it again."""
        self.solver.changeColBounds(self.column[key], 0.0, 0.0 if barred else 1.0)


def scale_of(steps: Iterable[int]) -> float:
    """The factor that brings a sum of steps within what the solver tells apart; 1 if it can be."""
    total = sum(abs(v) for v in steps)
    return 1.0 if total <= _SOLVER_TOTAL else _SOLVER_TOTAL / total
