"""When one decision turns: the exact numbers at which the piece is treated otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Literal

from asfound.choose.answer import Choice
from asfound.choose.exactly import exact
from asfound.choose.held_to import HeldTo, OutOfTimeError, Reached
from asfound.choose.problem import Option, Problem
from asfound.choose.requirement import number
from asfound.choose.search import Progress

Number = Literal["cost_max", "weight", "cost", "other_cost"]
"""The limit of cost, the piece's weight, what its option costs, what the other option costs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One number at which a decision turns, everything else as it is.

    Parameters
    ----------
    what : {"cost_max", "weight", "cost", "other_cost"}
        The number that moves.
    way : {"up", "down"}
    at : float
        Up to here the decision holds.
    reached : bool
        True when it turns at ``at`` itself, False when only beyond it.
    now : float or None
        Where the number stands; None where there is no limit yet.
    option : str
        What the piece takes then; of several that are as good, one.
    """

    what: Number
    way: Literal["up", "down"]
    at: float
    reached: bool
    now: float | None
    option: str

    @property
    def words(self) -> str:
        """The turn in words, with its number."""
        at, name = _figure(self.at, self.what), f"to '{self.option}' when "
        now = "" if self.now is None else f" (now {_figure(self.now, self.what)})"
        if self.what == "cost_max":
            moved = f"rises to {at}" if self.way == "up" else f"falls below {at}"
            return f"{name}the limit of cost {moved}{now}"
        if self.what == "weight":
            moved = "rises above" if self.way == "up" else "falls below"
            return f"{name}its weight {moved} {at}{now}"
        if self.what == "cost":
            return f"{name}this option costs more than {at}{now}"
        return f"{name}that costs {f'{at} or less' if self.reached else f'less than {at}'}{now}"


def _figure(value: float, what: Number) -> str:
    """A weight to three telling digits, for it is judged by eye; money as it is."""
    return number(float(f"{value:.3g}") if what == "weight" else value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Turning:
    """Every number at which the decision on one piece turns.

    Parameters
    ----------
    subject, option : str
    turns : tuple of Turn
        A number that is not here never turns it, however far it moves, if all is ``proved``.
    proved : bool
        False when time ran out before every number was found; those here are exact all the same.
    """

    subject: str
    option: str
    turns: tuple[Turn, ...]
    proved: bool


def turning(
    problem: Problem,
    choice: Choice,
    subject: str,
    *,
    time_limit_s: float = 30.0,
    progress: Progress | None = None,
) -> Turning:
    """The numbers at which one decision turns, each alone.

    Parameters
    ----------
    problem : Problem
    choice : Choice
        What ``choose`` returned for the problem, proved.
    subject : str
    time_limit_s : float
        Seconds of search.
    progress : callable or None
        Raise ``StoppedError`` in it to stop.

    Notes
    -----
    A choice is better when more of the car is kept or, as much being kept, when it costs less; a
    tie of both turns nothing. Let h(L) be the best choice within a limit of cost L that has the
    piece's option and g(L) the best that has not; both only rise with L. More money: nothing turns
    before the least L at which a choice without the option keeps more than h at the last limit
    looked at. There either g is better, and it turns, or the search goes on from it. Less
    money is the same walk down. So no limit between two looked at is left unproved.

    The weight w moves one line for each option of the piece, A + w·kept, where A is the most that
    the rest of the car keeps with it: it turns where two lines cross. A dearer option leaves less
    for the rest, so it holds as long as a choice with it that beats g still fits.

    Examples
    --------
    >>> from asfound.choose import Brief, Option, Subject, choose
    >>> rows = [("leave", 0.5, 0), ("stabilise", 0.9, 200)]
    >>> problem = Problem(
    ...     subjects=(Subject(subject="sill"),),
    ...     options=tuple(
    ...         Option(subject="sill", option=o, treatment=o, kept=k, grade=1, cost=c)
    ...         for o, k, c in rows
    ...     ),
    ...     brief=Brief(cost_max=150),
    ... )
    >>> [turn.words for turn in turning(problem, choose(problem), "sill").turns]
    ["to 'stabilise' when the limit of cost rises to 200 (now 150)", \
"to 'stabilise' when that costs 150 or less (now 200)"]
    """
    return _Asked(problem, choice, subject, time_limit_s=time_limit_s).all(progress)


def turnings(
    problem: Problem,
    choice: Choice,
    subjects: Sequence[str],
    *,
    time_limit_s: float = 30.0,
    progress: Progress | None = None,
) -> dict[str, Turning]:
    """The numbers at which several decisions turn, as :func:`turning`, in the order given.

    ``time_limit_s`` holds for all together; a subject that is not reached in it is absent.
    """
    found: dict[str, Turning] = {}
    left_s = time_limit_s
    for i, subject in enumerate(subjects):
        if left_s <= 0:
            break
        asked = _Asked(problem, choice, subject, time_limit_s=left_s)
        found[subject] = asked.all()
        left_s = asked.held.model.left_s
        _tell(progress, (i + 1) / len(subjects))
    return found


def _tell(progress: Progress | None, share: float) -> None:
    if progress:
        progress(share)


class _Asked:
    """One piece of a choice, and the walks along the numbers that could turn it."""

    def __init__(
        self, problem: Problem, choice: Choice, subject: str, *, time_limit_s: float
    ) -> None:
        self.held = HeldTo(problem, choice.options, subject, time_limit_s=time_limit_s)
        self.limit = problem.brief.cost_max
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
        parts = (self.more_money, self.less_money, self.weights, self.own_cost, self.others)
        for i, part in enumerate(parts if self.rivals else ()):
            try:
                for turn in part(partial(_tell_part, progress, i, len(parts))):
                    found.append(turn)
            except OutOfTimeError:
                self.proved = False
        _tell(progress, 1.0)
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


def _tell_part(progress: Progress | None, place: int, parts: int, share: float) -> None:
    _tell(progress, (place + share) / parts)


def _opened(problem: Problem, subject: str) -> dict[str, Fraction]:
    """What each option costs at least: what taking things off for it costs."""
    found: dict[str, Fraction] = {}
    for opening in problem.openings:
        for name, option in opening.users:
            if name == subject:
                found[option] = max(found.get(option, Fraction(0)), exact(opening.cost))
    return found
