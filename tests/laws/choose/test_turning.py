"""Every number at which a decision turns, against all choices of small cars looked at in turn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from tests.laws.choose.cases import every_choice, faults, make_coupled, make_problem, sums, written

from asfound.base import NoSolutionError, StoppedError
from asfound.choose import Choice, Problem, Turn, choose, turning

TINY = Fraction(1, 10**6)
Line = tuple[str, Fraction, Fraction, Fraction]


def lines_of(problem: Problem, subject: str) -> list[Line]:
    """Every choice that breaks nothing but the limit of cost: option, rest kept, own kept, cost."""
    return [line for line, _ in lines_and_hours(problem, subject, ("cost", None))]


def lines_and_hours(
    problem: Problem, subject: str, but: tuple[str, object]
) -> list[tuple[Line, dict[str, Fraction]]]:
    """Every choice that breaks nothing but one requirement, with its hours by trade."""
    weight = next(written(s.weight) for s in problem.subjects if s.subject == subject)
    whole = sum(written(s.weight) for s in problem.subjects)
    found = []
    for picked in every_choice(problem):
        if any(fault != but for fault in faults(problem, picked)):
            continue
        kept, cost, hours = sums(problem, picked)
        own = written(picked[subject].kept)
        found.append(((picked[subject].option, kept * whole - weight * own, own, cost), hours))
    return found


def best(lines: Iterable[Line], weight: Fraction, most: Fraction | None) -> set[str]:
    """The options with which most is kept for least within a limit."""
    fits = [
        (rest + weight * own, -cost, option)
        for option, rest, own, cost in lines
        if most is None or cost <= most
    ]
    top = max(fits, default=(0, 0, ""))[:2]
    return {option for kept, cost, option in fits if (kept, cost) == top}


def sweep(lines: list[Line], weight: Fraction) -> dict[Fraction, set[str]]:
    """The same for every limit that is the cost of a choice, from the least up."""
    found: dict[Fraction, set[str]] = {}
    most, since, options = Fraction(-1), Fraction(-1), set[str]()
    for cost, kept, option in sorted((c, -rest - weight * own, o) for o, rest, own, c in lines):
        if -kept > most:
            most, since, options = -kept, cost, {option}
        elif (-kept, cost) == (most, since):
            options.add(option)
        found[cost] = options
    return found


def dearer(lines: Iterable[Line], option: str, more: Fraction) -> list[Line]:
    return [(o, rest, own, cost + (more if o == option else 0)) for o, rest, own, cost in lines]


def turn_of(turns: tuple[Turn, ...], what: str, way: str) -> Turn | None:
    return next((t for t in turns if (t.what, t.way) == (what, way)), None)


class Looked:
    """One piece of one choice with every choice of the car."""

    def __init__(self, problem: Problem, choice: Choice, subject: str) -> None:
        self.problem, self.subject = problem, subject
        self.option = choice.options[subject]
        self.cost = written(choice.cost)
        self.lines = lines_of(problem, subject)
        self.weight = next(written(s.weight) for s in problem.subjects if s.subject == subject)
        limit = problem.brief.cost_max
        self.limit = None if limit is None else written(limit)
        self.turning = turning(problem, choice, subject)
        assert self.turning.proved

    def holds(self, most: Fraction | None, weight: Fraction | None = None) -> bool:
        found = best(self.lines, self.weight if weight is None else weight, most)
        return self.option in found

    def check_limit(self) -> None:
        swept = sweep(self.lines, self.weight)
        above = [] if self.limit is None else [c for c in swept if c > self.limit]
        up = next((c for c in above if self.option not in swept[c]), None)
        turn = turn_of(self.turning.turns, "cost_max", "up")
        assert (turn.at if turn else None) == (None if up is None else float(up))
        assert turn is None or up is None or turn.option in swept[up]
        below = [c for c in swept if c <= self.cost]
        falling = reversed(list(pairwise(below)))
        down = next((high for low, high in falling if self.option not in swept[low]), None)
        turn = turn_of(self.turning.turns, "cost_max", "down")
        assert (turn.at if turn else None) == (None if down is None else float(down))

    def check_hours(self) -> None:
        """At the limit of every choice's hours in turn, the best choices of all are looked at."""
        for trade, limit in self.problem.brief.hours_max.items():
            every = lines_and_hours(self.problem, self.subject, ("hours", trade))

            def winners(most: Fraction, every: list = every, trade: str = trade) -> set[str]:
                fits = [line for line, hours in every if hours[trade] <= most]
                return best(fits, self.weight, None)

            steps = sorted({hours[trade] for _, hours in every} | {written(limit)})
            above = [h for h in steps if h > written(limit)]
            up = next((h for h in above if self.option not in winners(h)), None)
            turns = [t for t in self.turning.turns if t.trade == trade]
            turn = turn_of(tuple(turns), "hours_max", "up")
            assert (turn.at if turn else None) == (None if up is None else float(up))
            assert turn is None or up is None or turn.option in winners(up)
            below = [h for h in steps if h <= written(limit)]
            falling = reversed(list(pairwise(below)))
            down = next((high for low, high in falling if self.option not in winners(low)), None)
            turn = turn_of(tuple(turns), "hours_max", "down")
            assert (turn.at if turn else None) == (None if down is None else float(down))

    def check_weight(self) -> None:
        for way, sign, end in (("down", -1, Fraction(0)), ("up", 1, Fraction(10**9))):
            turn = turn_of(self.turning.turns, "weight", way)
            if turn is None:
                assert self.holds(self.limit, end + TINY)
                continue
            at = Fraction(turn.at)
            assert (at - self.weight) * sign >= -TINY
            assert self.holds(self.limit, (at + self.weight) / 2)
            assert not self.holds(self.limit, at + sign * TINY)

    def check_own_cost(self) -> None:
        own = next(
            written(o.cost)
            for o in self.problem.options
            if (o.subject, o.option) == (self.subject, self.option)
        )
        turn = turn_of(self.turning.turns, "cost", "up")
        at = own + 10**9 if turn is None else Fraction(turn.at)
        for more, expected in ((at - own - TINY, True), (at - own + TINY, turn is None)):
            if more >= 0:
                found = best(dearer(self.lines, self.option, more), self.weight, self.limit)
                # Where nothing is left at all, the brief is impossible, not the piece another.
                assert (self.option in found or not found) is expected

    def check_others(self) -> None:
        turned = {t.option: t for t in self.turning.turns if t.what == "other_cost"}
        for option in {line[0] for line in self.lines} - {self.option}:
            row = next(
                o for o in self.problem.options if (o.subject, o.option) == (self.subject, option)
            )
            turn, own = turned.get(option), written(row.cost)
            at = Fraction(0) if turn is None else written(round(turn.at, 6))

            def wins(cost: Fraction, option: str = option, own: Fraction = own) -> bool:
                found = best(dearer(self.lines, option, cost - own), self.weight, self.limit)
                return self.option not in found

            if turn is None:
                assert self.problem.openings or not wins(at)
            else:
                assert wins(at if turn.reached else at - TINY)
                assert not wins(at + TINY if turn.reached else at)


@pytest.mark.parametrize("block", range(6))
def test_turns_are_where_looking_at_every_choice_says(block: int) -> None:
    looked_n = hours_n = 0
    for seed in range(5 * block, 5 * block + 5):
        make = make_coupled if seed % 3 == 0 else make_problem
        problem = make(52_000 + seed, calm=True)
        try:
            choice = choose(problem)
        except NoSolutionError:
            continue
        for subject in problem.subjects[:2]:
            looked = Looked(problem, choice, subject.subject)
            looked.check_limit()
            looked.check_hours()
            looked.check_weight()
            looked.check_own_cost()
            looked.check_others()
            looked_n += 1
            hours_n += any(turn.trade for turn in looked.turning.turns)
    assert looked_n > 2
    assert hours_n > 0


def test_seven_pieces_with_up_to_four_ways() -> None:
    turns = 0
    for seed in range(61_000, 61_020):
        problem = make_problem(seed, subjects=7, tight=1.0)
        try:
            choice = choose(problem)
        except NoSolutionError:
            continue
        looked = Looked(problem, choice, "piece 0")
        looked.check_limit()
        looked.check_hours()
        looked.check_weight()
        looked.check_own_cost()
        looked.check_others()
        turns += len(looked.turning.turns)
    assert turns > 4


def test_choosing_again_at_the_numbers_agrees() -> None:
    """The law that the page states: at the number it is another, short of it it is the same."""
    problem = make_problem(61_004, subjects=7, calm=True)
    choice, seen = choose(problem), 0
    for subject in (s.subject for s in problem.subjects):
        for turn in turning(problem, choice, subject).turns:
            if turn.what == "cost_max":
                short = turn.at - 0.01 if turn.way == "up" else turn.at
                at = turn.at if turn.way == "up" else turn.at - 0.01
                for limit, same in ((short, True), (at, False)):
                    again = choose(replace(problem, brief=replace(problem.brief, cost_max=limit)))
                    assert (again.options[subject] == choice.options[subject]) is same
                    seen += 1
    assert seen > 4


def test_a_piece_with_one_way_never_turns() -> None:
    problem = make_problem(61_004, subjects=7, calm=True)
    choice = choose(problem)
    one = problem.subjects[0].subject
    alone = replace(
        problem,
        options=tuple(
            o for o in problem.options if o.subject != one or o.option == choice.options[one]
        ),
        links=(),
    )
    found = turning(alone, choose(alone), one)
    assert (found.turns, found.proved) == ((), True)


def test_it_can_be_stopped_and_says_when_time_was_short() -> None:
    problem = make_problem(61_004, subjects=7, calm=True)
    choice = choose(problem)

    def stop(_: float) -> None:
        raise StoppedError

    with pytest.raises(StoppedError):
        turning(problem, choice, "piece 0", progress=stop)
    assert not turning(problem, choice, "piece 0", time_limit_s=1e-9).proved
