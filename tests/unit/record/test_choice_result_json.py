"""The front of a result ends at the choice, whether it was drawn within the brief or beyond."""

from __future__ import annotations

from asfound.choose import Brief, Option, Problem, Subject, choose, front
from asfound.record.results.choice import choice_json


def problem() -> Problem:
    rows = [("renew", 0.1, 10), ("mend", 0.6, 40), ("conserve", 0.9, 90)]
    return Problem(
        subjects=(Subject(subject="seat"),),
        options=tuple(
            Option(subject="seat", option=o, treatment="repair", kept=k, grade=3, cost=c)
            for o, k, c in rows
        ),
        brief=Brief(cost_max=50),
    )


def test_what_is_beyond_the_brief_is_left_out() -> None:
    car = problem()
    for line in (front(car), front(car, points=2), front(car, within_brief=True)):
        told = choice_json(choice=choose(car), front=line, whys=(), clash=())["front"]
        costs = [point["cost"] for point in told]
        assert costs[-1] == 40  # "mend", the dearest within 50
        assert costs[0] == 10
        assert costs == sorted(set(costs))


def test_without_a_choice_there_is_no_front() -> None:
    told = choice_json(choice=None, front=None, whys=(), clash=("cost",))
    assert (told["chosen"], told["front"], told["impossible"]) == (None, [], ["cost"])
