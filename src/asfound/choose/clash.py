"""Why nothing satisfies a brief: a smallest set of requirements that cannot hold together."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from asfound.choose.arithmetic import Key, Ledger, open_ledger
from asfound.choose.couplings import Seam
from asfound.choose.eligible import options_of
from asfound.choose.hitting import smallest_hitting_set
from asfound.choose.model import Model
from asfound.choose.problem import Problem
from asfound.choose.programme import scale_of
from asfound.choose.requirement import Requirement, gathered, requirements_of
from asfound.choose.search import Progress


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Requirements that cannot hold together.

    Parameters
    ----------
    requirements : tuple of Requirement
        Without any one of them the rest can hold.
    smallest : bool
        True if no clash of fewer requirements exists. False if the time ran out before that was
        proved: floors of single pieces, locks and links are then each taken as one.
    """

    requirements: tuple[Requirement, ...]
    smallest: bool


class Relaxed:
    """The model in which each requirement may be given up at the price of one.

    Parameters
    ----------
    problem : Problem
    requirements : tuple of Requirement
    time_limit_s : float
    """

    def __init__(
        self, problem: Problem, requirements: tuple[Requirement, ...], *, time_limit_s: float
    ) -> None:
        self.ledger: Ledger = open_ledger(problem)
        self.requirements = requirements
        self.model = Model(
            ledger=self.ledger,
            allowed=_safe_if_any(problem),
            links=(),
            time_limit_s=time_limit_s,
        )
        self._given_up = [self._add(r) for r in self.requirements]

    def _add(self, requirement: Requirement) -> int:
        model = self.model
        z = model.add_column()
        if requirement.amount is not None:
            steps = model.terms(requirement.amount)
            room = max(0, sum(v for v in steps.values() if v > 0) - requirement.most)
            scale = scale_of([*steps.values(), room])
            scaled = {column: v * scale for column, v in steps.items()}
            model.add_row({**scaled, z: -room * scale}, high=requirement.most * scale)
        for link in requirement.links:
            terms, low, high = model.link_row(link)
            model.add_row({**terms, z: -2.0}, low, high)
        for seam in requirement.seams:
            for row in model.seam_rows(seam):
                model.add_row({**row, z: -1.0}, high=1.0)
        for key in sorted(requirement.bars & model.column.keys()):
            model.add_row({model.column[key]: 1.0, z: -1.0}, high=0.0)
        return z

    def broken(self, keep: Iterable[int]) -> tuple[frozenset[int] | None, bool]:
        """What the best choice breaks when the requirements ``keep`` must hold.

        Returns
        -------
        tuple
            The places of the broken requirements, as few as possible, or None when ``keep``
            itself cannot hold; and whether that is proved.
        """
        self.insist(keep)
        self.model.aim_at(dict.fromkeys(self._given_up, 1))
        run = self.model.run(accept=lambda options: self._broken_by(options).isdisjoint(keep))
        return (None if run.options is None else self._broken_by(run.options)), run.ended

    def _broken_by(self, options: Mapping[str, str]) -> frozenset[int]:
        return frozenset(
            place
            for place, requirement in enumerate(self.requirements)
            if not requirement.holds(self.ledger, options)
        )

    def insist(self, keep: Iterable[int]) -> None:
        """Let these requirements hold and leave the others open."""
        kept = set(keep)
        for place, column in enumerate(self._given_up):
            self.model.solver.changeColBounds(column, 0.0, 0.0 if place in kept else 1.0)

    def possible(self, keep: Iterable[int], barred: frozenset[Key]) -> bool:
        """Whether ``keep`` can hold while the options ``barred`` are not chosen."""
        present = barred & self.model.column.keys()
        for key in present:
            self.model.bar(key)
        broken, _ = self.broken(keep)
        for key in present:
            self.model.bar(key, barred=False)
        return broken is not None

    def possible_with(self, keep: Iterable[int], seam: Seam) -> bool:
        """Whether ``keep`` can hold with one more seam."""
        rows = [self.model.add_row(row, high=1.0) for row in self.model.seam_rows(seam)]
        broken, _ = self.broken(keep)
        if rows:
            self.model.solver.deleteRows(len(rows), np.array(rows, dtype=np.int32))
        return broken is not None

    def least(self, place: int, keep: Iterable[int]) -> float | None:
        """The least that a limited sum can be when ``keep`` holds; None if ``keep`` cannot."""
        amount = self.requirements[place].amount
        assert amount is not None
        self.insist(set(keep) - {place})
        self.model.aim((amount, 1))
        run = self.model.run()
        if run.options is None or not run.ended:
            return None
        return float(amount.value(self.ledger.total(amount, run.options)))


def find_clash(
    problem: Problem, *, time_limit_s: float = 60.0, progress: Progress | None = None
) -> Clash | None:
    """A smallest set of requirements that no choice satisfies; None if the brief is possible.

    Parameters
    ----------
    problem : Problem
    time_limit_s : float
        Seconds of search; afterwards the clash may be larger than need be, and says so.
    progress : callable or None

    Notes
    -----
    Implicit hitting sets: every way found to satisfy all but a few requirements tells that a
    clash contains one of those few. A smallest set that meets all these is tried; if it can
    hold, it yields another way; if not, it is a clash and none can be smaller.

    References
    ----------
    A. Ignatiev, A. Previti, M. Liffiton, J. Marques-Silva, "Smallest MUS extraction with minimal
    hitting set dualization", CP 2015 (method; from memory).
    """
    single = requirements_of(problem, open_ledger(problem))
    for requirements in (single, gathered(single)):
        relaxed = Relaxed(problem, requirements, time_limit_s=time_limit_s / 2)
        places, ended = _smallest(relaxed, progress)
        if ended:
            found = tuple(requirements[place] for place in sorted(places))
            smallest = requirements is single or len(requirements) == len(single)
            return Clash(requirements=found, smallest=smallest) if found else None
    return Clash(requirements=gathered(single), smallest=False)


def _smallest(relaxed: Relaxed, progress: Progress | None) -> tuple[frozenset[int], bool]:
    """Places of a smallest clash, none if all can hold; and whether the time was enough."""
    ways: list[frozenset[int]] = []
    while True:
        if progress:
            progress(1.0 - 1.0 / (1.0 + len(ways)))
        keep = smallest_hitting_set(ways)
        broken, proved = relaxed.broken(keep)
        if broken is None:
            return keep, proved
        if not broken:
            return frozenset(), True
        ways.append(broken)


def _safe_if_any(problem: Problem) -> dict[str, tuple[str, ...]]:
    return {
        subject: tuple(o.option for o in options if o.safe or not any(p.safe for p in options))
        for subject, options in options_of(problem).items()
    }
