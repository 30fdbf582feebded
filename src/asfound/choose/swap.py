"""What changes when one subject alone takes another option, everything else as it is."""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from asfound.choose.arithmetic import Amount, Ledger, both_chosen, breaks
from asfound.choose.couplings import Seam
from asfound.choose.exactly import exact
from asfound.choose.problem import Link, Problem
from asfound.choose.words import in_words, number, step_in_words


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortage:
    """What would be missing for a swap.

    Parameters
    ----------
    words : str
        Why the swap is not possible.
    remedy : str
        What would make it possible.
    """

    words: str
    remedy: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Swap:
    """One subject's other option with everything else as chosen.

    Parameters
    ----------
    option : str
    kept_lost : Fraction
        Share of the car's fabric lost by it; below zero when it keeps more.
    cost_change : Fraction
    hours_change : mapping of str to Fraction
    shortages : tuple of Shortage
        Empty when the swap stays within the brief.
    """

    option: str
    kept_lost: Fraction
    cost_change: Fraction
    hours_change: Mapping[str, Fraction]
    shortages: tuple[Shortage, ...]


class Swaps:
    """Every swap from one choice.

    Parameters
    ----------
    problem : Problem
    ledger : Ledger
    chosen : mapping of str to str
    """

    def __init__(self, problem: Problem, ledger: Ledger, chosen: Mapping[str, str]) -> None:
        self.problem, self.ledger, self.chosen = problem, ledger, dict(chosen)
        self._links: dict[str, list[tuple[int, Link]]] = {}
        for place, link in enumerate(problem.links):
            for subject in {link.subject, link.other_subject}:
                self._links.setdefault(subject, []).append((place, link))
        self._seams: dict[str, list[Seam]] = {}
        for seam in problem.seams:
            for subject in (seam.subject, seam.other_subject):
                self._seams.setdefault(subject, []).append(seam)
        self._openings: dict[str, set[int]] = {}
        for place, opening in enumerate(problem.openings):
            for subject, _ in opening.users:
                self._openings.setdefault(subject, set()).add(place)
        brief = problem.brief
        self._limits = [("cost", ledger.cost, brief.cost_max)] + [
            (f"hours of {trade}", ledger.by_trade[trade], limit)
            for trade, limit in sorted(brief.hours_max.items())
            if trade in ledger.by_trade
        ]
        self._spent = {name: ledger.total(a, chosen) for name, a, _ in self._limits}

    def of(self, subject: str, option: str) -> Swap:
        """The swap of one subject to one of its options."""
        after = ChainMap({subject: option}, self.chosen)
        ledger = self.ledger
        return Swap(
            option=option,
            kept_lost=-self._change(ledger.kept, subject, after) / ledger.weight,
            cost_change=self._change(ledger.cost, subject, after),
            hours_change={
                trade: self._change(amount, subject, after)
                for trade, amount in ledger.by_trade.items()
            },
            shortages=(*self._over(subject, after), *self._broken(subject, after)),
        )

    def _change(self, amount: Amount, subject: str, after: Mapping[str, str]) -> Fraction:
        def steps(options: Mapping[str, str]) -> int:
            saved = sum(
                amount.saved[place]
                for place, link in self._links.get(subject, ())
                if place in amount.saved and both_chosen(link, options)
            )
            saved += self.ledger.opened_once(amount, options, self._openings.get(subject, ()))
            return amount.of[subject, options[subject]] - saved

        return amount.value(steps(after) - steps(self.chosen))

    def _over(self, subject: str, after: Mapping[str, str]) -> Iterator[Shortage]:
        for name, amount, limit in self._limits:
            if limit is None:
                continue
            change = self._change(amount, subject, after)
            over = amount.value(self._spent[name]) + change - exact(limit)
            if over > 0:
                yield _shortage(name, change, over, limit)

    def _broken(self, subject: str, after: Mapping[str, str]) -> Iterator[Shortage]:
        for _, link in self._links.get(subject, ()):
            if breaks(link, after):
                words = in_words(link)
                yield Shortage(words=words, remedy=f"this is given up: {words}")
        for seam in self._seams.get(subject, ()):
            if seam.broken_by(after):
                yield _apart(seam, subject, after)


def _apart(seam: Seam, subject: str, after: Mapping[str, str]) -> Shortage:
    other = seam.other_subject if subject == seam.subject else seam.subject
    step = seam.steps[after[seam.subject], after[seam.other_subject]]
    seen = step_in_words(seam, step)
    return Shortage(
        words=f"it would stand {seen} from {other} '{after[other]}' and "
        f"{step_in_words(seam, seam.most)} is allowed at their seam",
        remedy=f"{seen} is allowed at the seam with {other}",
    )


def _shortage(name: str, change: Fraction, over: Fraction, limit: float) -> Shortage:
    more, left, missing = (number(float(v)) for v in (change, change - over, over))
    if name == "cost":
        words = f"it costs {more} more and only {left} of {number(limit)} is left"
    else:
        trade = name.removeprefix("hours of ")
        words = f"it takes {more} h more of {trade} and only {left} of {number(limit)} h is left"
    return Shortage(words=words, remedy=f"the limit of {name} rises by {missing}")
