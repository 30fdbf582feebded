"""The walks along the numbers that could turn the decision on one piece."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from functools import partial
from typing import Literal

from asfound.choose.answer import Choice
from asfound.choose.exactly import exact
from asfound.choose.held_to import HeldTo, OutOfTimeError, Reached
from asfound.choose.hours_walk import HoursWalk
from asfound.choose.problem import Option, Problem
from asfound.choose.search import Progress
from asfound.choose.turn import Turn, Turning


class Walks:
    """One piece of a choice, and the walks along the numbers that turn it; see ``turning``."""

    def __init__(
        self, problem: Problem, choice: Choice, subject: str, *, time_limit_s: float
    ) -> None:
        self.held = HeldTo(problem, choice.options, subject, time_limit_s=time_limit_s)
        self.limit = problem.brief.cost_max
        self.hours_max = [
            (trade, limit)
            for trade, limit in sorted(problem.brief.hours_max.items())
            if trade in self.held.ledger.by_trade
        ]
        self.least_cost = _opened(problem, subject)
        self.named: Mapping[str, Option] = {
            o.option: o for o in problem.options if o.subject == subject
        }
        self.mine = self.named[choice.options[subject]]
        self.rivals = self.held.own - {self.mine.option}
        self.weight = next(s.weight for s in problem.subjects if s.subject == subject)
        self.here = self.held.reached(choice.options)
        self.proved = choice.proved

    def all(self, progress: Progress | None = None) -> Turning:
        """Every number, each looked for in turn."""
        found: list[Turn] = []
        parts = (
            self.more_money,
            self.less_money,
            self.hours,
            self.weights,
            self.own_cost,
            self.others,
        )
        for i, part in enumerate(parts if self.rivals else ()):
            try:
                for turn in part(partial(_tell_part, progress, i, len(parts))):
                    found.append(turn)
            except OutOfTimeError:
                self.proved = False
        tell_share(progress, 1.0)
        return Turning(
            subject=self.held.subject,
            option=self.mine.option,
            turns=tuple(found),
            proved=self.proved,
        )

    def more_money(self, tell: Progress) -> Iterator[Turn]:
        """The least limit of cost above the brief's at which it turns."""
        if self.limit is None:
            return
        mine: Reached | None = self.here
        while mine is not None:
            tell(0.5)
            rival = self.held.cheapest(self.rivals, kept=mine.kept + 1)
            if rival is None:
                return
            best = self.held.best(self.rivals, most=rival.cost)
            mine = self.held.best({self.mine.option}, most=rival.cost)
            if best is not None and best.beats(mine):
                yield self._limit("up", rival.cost, best.option)
                return

    def less_money(self, tell: Progress) -> Iterator[Turn]:
        """The limit of cost below which it turns; none where nothing else is possible below."""
        least: Reached | None = self.here
        while least is not None:
            tell(0.5)
            top = least.cost
            rival = self.held.best(self.rivals, most=top - 1)
            if rival is None:
                return
            if rival.beats(self.held.best({self.mine.option}, most=top - 1)):
                yield self._limit("down", top, rival.option)
                return
            least = self._down_to(rival)

    def _down_to(self, rival: Reached) -> Reached | None:
        """The cheapest choice with the option that the rival does not beat."""
        same = self.held.cheapest({self.mine.option}, kept=rival.kept)
        if same is not None and same.cost <= rival.cost:
            return same
        return self.held.cheapest({self.mine.option}, kept=rival.kept + 1)

    def hours(self, tell: Progress) -> Iterator[Turn]:
        """The limits of hours of each trade above and below the brief's at which it turns."""
        for i, (trade, limit) in enumerate(self.hours_max):
            walk = HoursWalk(
                self.held, mine=self.mine.option, here=self.here, trade=trade, limit=limit
            )
            for j, part in enumerate((walk.more, walk.less)):
                tell((2 * i + j) / (2 * len(self.hours_max)))
                yield from part()

    def weights(self, tell: Progress) -> Iterator[Turn]:
        """Where the line of the option crosses the nearest of another, down and up."""
        down: list[tuple[Fraction, str]] = []
        up: list[tuple[Fraction, str]] = []
        weight, kept = exact(self.weight), exact(self.mine.kept)
        for i, name in enumerate(sorted(self.rivals)):
            tell(i / len(self.rivals))
            slope = kept - exact(self.named[name].kept)
            other = self.held.best({name}, most=self.held.most) if slope else None
            if other is None:
                continue
            at = weight - self.held.kept_value(self.here.kept - other.kept) / slope
            (down if slope > 0 else up).append((at, name))
        if down and max(down)[0] > 0:
            yield self._weight("down", *max(down))
        if up:
            yield self._weight("up", *min(up))

    def own_cost(self, tell: Progress) -> Iterator[Turn]:
        """What the option may cost before the piece turns."""
        tell(0.0)
        rival = self.held.best(self.rivals, most=self.held.most)
        if rival is None:
            return
        more = self.held.cheapest({self.mine.option}, kept=rival.kept + 1)
        if more is not None and self.limit is None:
            return
        same = self.held.cheapest({self.mine.option}, kept=rival.kept)
        dearer = [self.held.money(rival.cost - same.cost)] if same else []
        if more is not None and self.limit is not None:
            dearer.append(exact(self.limit) - self.held.money(more.cost))
        at = float(exact(self.mine.cost) + max(dearer))
        yield Turn(
            what="cost", way="up", at=at, reached=False, now=self.mine.cost, option=rival.option
        )

    def others(self, tell: Progress) -> Iterator[Turn]:
        """What each other option would have to cost for the piece to take it."""
        for i, name in enumerate(sorted(self.rivals)):
            tell(i / len(self.rivals))
            own = exact(self.named[name].cost)
            costs = [(cost, reached) for cost, reached in self._would_do(name, own)]
            if costs and max(costs)[0] >= self.least_cost.get(name, Fraction(0)):
                at, reached = max(costs)
                if at > 0 or reached:
                    yield Turn(
                        what="other_cost",
                        way="down",
                        at=float(at),
                        reached=reached,
                        now=self.named[name].cost,
                        option=name,
                    )

    def _would_do(self, name: str, own: Fraction) -> Iterator[tuple[Fraction, bool]]:
        """Costs of another option at which it keeps more within the limit, or as much for less."""
        more = self.held.cheapest({name}, kept=self.here.kept + 1)
        if more is not None and self.limit is not None:
            yield own + exact(self.limit) - self.held.money(more.cost), True
        same = self.held.cheapest({name}, kept=self.here.kept)
        if same is not None:
            yield own + self.held.money(self.here.cost - same.cost), False

    def _limit(self, way: Literal["up", "down"], steps: int, option: str) -> Turn:
        return Turn(
            what="cost_max",
            way=way,
            at=float(self.held.money(steps)),
            reached=way == "up",
            now=self.limit,
            option=option,
        )

    def _weight(self, way: Literal["up", "down"], at: Fraction, option: str) -> Turn:
        return Turn(
            what="weight", way=way, at=float(at), reached=False, now=self.weight, option=option
        )


def tell_share(progress: Progress | None, share: float) -> None:
    """The share that is done, told to whoever listens."""
    if progress:
        progress(share)


def _tell_part(progress: Progress | None, place: int, parts: int, share: float) -> None:
    tell_share(progress, (place + share) / parts)


def _opened(problem: Problem, subject: str) -> dict[str, Fraction]:
    """What each option costs at least: what taking things off for it costs."""
    found: dict[str, Fraction] = {}
    for opening in problem.openings:
        for name, option in opening.users:
            if name == subject:
                found[option] = max(found.get(option, Fraction(0)), exact(opening.cost))
    return found
