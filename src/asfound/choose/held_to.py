"""The best choices over the whole car when one piece is held to some of its options."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from fractions import Fraction

from asfound.choose.arithmetic import Amount, Ledger
from asfound.choose.eligible import eligible
from asfound.choose.exactly import exact
from asfound.choose.model import Model
from asfound.choose.problem import Problem
from asfound.choose.search import build, most_kept


class OutOfTimeError(Exception):
    """The time was over before an answer was proved."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reached:
    """What a choice keeps and costs, in steps, and what the piece takes in it."""

    kept: int
    cost: int
    option: str

    def beats(self, other: Reached | None) -> bool:
        """Whether it keeps more, or as much for less; anything beats nothing."""
        return other is None or (self.kept, -self.cost) > (other.kept, -other.cost)


class HeldTo:
    """One model, asked again and again with one piece held to some of its options.

    Parameters
    ----------
    problem : Problem
    chosen : mapping of str to str
        The choice from which the questions start.
    subject : str
        The piece; none of its options is left out as beaten, so that each can be asked for.
    time_limit_s : float
        Seconds of search over all questions.
    """

    def __init__(
        self, problem: Problem, chosen: Mapping[str, str], subject: str, *, time_limit_s: float
    ) -> None:
        self.subject, self.chosen = subject, chosen
        self.model: Model = build(
            problem, time_limit_s=time_limit_s, spare=chosen, whole=(subject,)
        )
        self.ledger: Ledger = self.model.ledger
        self.own = frozenset(eligible(problem)[subject])
        limit = problem.brief.cost_max
        self.most = None if limit is None else self.ledger.cost.most_steps(exact(limit))
        self._most_hours = {
            amount.name: amount.most_steps(exact(problem.brief.hours_max[trade]))
            for trade, amount in self.ledger.by_trade.items()
            if trade in problem.brief.hours_max
        }

    def best(self, options: Collection[str], *, most: int | None) -> Reached | None:
        """The choice that keeps most, then costs least, within a limit of cost in steps.

        Raises
        ------
        OutOfTimeError
            If the time ended before the answer was proved.
        """
        self._hold_to(options)
        self.model.hold(self.ledger.cost, most=most)
        found = most_kept(self.model, then_hours=False)
        if not found.proved:
            raise OutOfTimeError
        return None if found.options is None else self.reached(found.options)

    def cheapest(self, options: Collection[str], *, kept: int) -> Reached | None:
        """The choice that costs least, whatever the limit of cost, and keeps so much or more.

        Raises
        ------
        OutOfTimeError
            If the time ended before the answer was proved.
        """
        self._hold_to(options)
        self.model.hold(self.ledger.cost)
        self.model.hold(self.ledger.kept, least=kept)
        self.model.aim((self.ledger.cost, 1))
        run = self.model.run()
        self.model.hold(self.ledger.kept)
        if not run.ended:
            raise OutOfTimeError
        return None if run.options is None else self.reached(run.options)

    def best_in(self, options: Collection[str], *, hours: Amount, most: int) -> Reached | None:
        """The choice that keeps most, then costs least, with another limit of hours of a trade."""
        self.model.hold(hours, most=most)
        try:
            return self.best(options, most=self.most)
        finally:
            self.model.hold(hours, most=self.most_hours(hours))

    def least_hours(
        self, options: Collection[str], *, hours: Amount, kept: int, cost: int | None = None
    ) -> int | None:
        """The least hours of a trade with which so much or more is kept, for at most so much.

        Raises
        ------
        OutOfTimeError
            If the time ended before the answer was proved.
        """
        limits = [limit for limit in (self.most, cost) if limit is not None]
        self._hold_to(options)
        self.model.hold(self.ledger.cost, most=min(limits, default=None))
        self.model.hold(self.ledger.kept, least=kept)
        self.model.hold(hours)
        self.model.aim((hours, 1))
        run = self.model.run()
        self.model.hold(self.ledger.kept)
        self.model.hold(hours, most=self.most_hours(hours))
        if not run.ended:
            raise OutOfTimeError
        return None if run.options is None else self.ledger.total(hours, run.options)

    def most_hours(self, hours: Amount) -> int | None:
        """The brief's limit of hours of a trade, in steps."""
        return self._most_hours.get(hours.name)

    def reached(self, options: Mapping[str, str]) -> Reached:
        """What a choice keeps and costs."""
        ledger = self.ledger
        return Reached(
            kept=ledger.total(ledger.kept, options),
            cost=ledger.total(ledger.cost, options),
            option=options[self.subject],
        )

    def money(self, steps: int) -> Fraction:
        """What steps of cost are worth."""
        return self.ledger.cost.value(steps)

    def kept_value(self, steps: int) -> Fraction:
        """What steps of fabric kept are worth, weight times share."""
        return self.ledger.kept.value(steps)

    def _hold_to(self, options: Collection[str]) -> None:
        for option in self.own:
            self.model.bar((self.subject, option), barred=option not in options)
