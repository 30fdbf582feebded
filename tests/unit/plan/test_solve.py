"""Plans that can be worked out by hand, cars by priority, due days, stopping."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.laws.plan.broken_rules import broken_rules

from asfound.base import EnoughError, InputError, NoSolutionError, StoppedError
from asfound.plan import (
    Bay,
    Hours,
    Person,
    PlanProblem,
    Task,
    TaskLink,
    WorkingTime,
    plan,
)

DAY, HOUR = 1440, 60
WEEK = WorkingTime.every_day(8)


def person(name: str, *trades: str, time: WorkingTime = WEEK) -> Person:
    return Person(person=name, trades=trades, time=time)


def task(name: str, hours: float, trade: str = "a", **more: object) -> Task:
    return Task(task=name, hours=Hours.sure(hours), trade=trade, **more)  # type: ignore[arg-type]


def test_work_stops_over_night_weekend_and_absence_and_goes_on() -> None:
    away = WorkingTime(minutes=WEEK.minutes, away=((7, 7),))
    problem = PlanProblem(
        tasks=(task("long", 44),), people=(person("Ann", "a", time=away),), first_weekday=0
    )
    found = plan(problem)
    (long,) = found.placed
    assert long.start_min == 8 * HOUR
    assert long.end_min == 8 * DAY + 12 * HOUR  # Monday is her day off, Tuesday until noon
    assert found.proved
    assert found.days == 5.5


def test_paint_dries_at_night() -> None:
    problem = PlanProblem(
        tasks=(task("paint", 8), task("fit", 1)),
        links=(TaskLink(before="paint", after="fit", lag_min=16 * HOUR),),
        people=(person("Ann", "a"),),
    )
    assert plan(problem).of("fit").start_min == DAY + 8 * HOUR


def test_two_work_only_while_both_are_there() -> None:
    half = WorkingTime.every_day(4)
    problem = PlanProblem(
        tasks=(task("lift", 6, people=2),),
        people=(person("Ann", "a"), person("Bo", "a", time=half)),
    )
    found = plan(problem).of("lift")
    assert (found.start_min, found.end_min) == (8 * HOUR, DAY + 10 * HOUR)
    assert found.people == ("Ann", "Bo")


def test_a_bay_is_held_over_night() -> None:
    problem = PlanProblem(
        tasks=(task("one", 10, bays={"booth": 1}), task("two", 2, bays={"booth": 1})),
        people=(person("Ann", "a"), person("Bo", "a")),
        bays=(Bay(bay="booth", count=1),),
    )
    found = plan(problem)
    assert found.of("one").start_min >= found.of("two").end_min or (
        found.of("two").start_min >= found.of("one").end_min
    )
    assert found.days == 1.5


def test_nothing_stands_in_a_bay_that_is_closed_on_a_day_without_work() -> None:
    booth = Bay(bay="booth", count=1, closed=((5, 5),))  # a Saturday
    problem = PlanProblem(
        tasks=(task("fill", 35), task("spray", 8, bays={"booth": 1})),
        links=(TaskLink(before="fill", after="spray"),),
        people=(person("Ann", "a"),),
        bays=(booth,),
    )
    found = plan(problem)  # the spraying would begin on Friday at 11:00 and end on Monday
    assert found.of("spray").start_min == 7 * DAY + 8 * HOUR
    assert found.proved
    assert found.days == 6


# By hand. Grey first: red after 2 days, grey after 3. Red first: red after 1, grey after 4.
TWO_CARS = PlanProblem(
    tasks=(
        task("red", 8, car="red"),
        task("grey", 8, car="grey"),
        task("grey, then", 16, trade="b", car="grey"),
    ),
    links=(TaskLink(before="grey", after="grey, then"),),
    people=(person("Ann", "a"), person("Bo", "b")),
)


@pytest.mark.parametrize(
    ("priority", "promised_days", "finish_days"),
    [
        ({"grey": 2}, {}, {"red": 2, "grey": 3}),  # 2 + 6 < 1 + 8
        ({"red": 3}, {}, {"red": 1, "grey": 4}),  # 3 + 4 < 6 + 3
        ({"red": 3}, {"grey": 3}, {"red": 2, "grey": 3}),  # 6 + 3 < 3 + 4 + 10
        ({"red": 3}, {"red": 1, "grey": 3}, {"red": 1, "grey": 4}),  # 3 + 14 < 36 + 3
    ],
)
def test_a_car_wins_days_by_its_priority_and_its_promise(
    priority: dict[str, float], promised_days: dict[str, int], finish_days: dict[str, int]
) -> None:
    promised = {car: days * DAY for car, days in promised_days.items()}
    found = plan(replace(TWO_CARS, priority=priority, promised_min=promised))
    assert {car: -(-end // DAY) for car, end in found.cars.items()} == finish_days
    assert found.proved


def test_the_dearer_car_goes_first_where_the_last_is_not_later() -> None:
    tasks = tuple(task(f"{car}{i}", 8, car=car) for car in "xyz" for i in range(2))
    problem = PlanProblem(tasks=tasks, people=(person("Ann", "a"),), priority={"y": 5, "z": 2})
    found = plan(problem)
    assert [p.task[0] for p in found.placed] == ["y", "y", "z", "z", "x", "x"]
    assert found.cars["y"] < found.cars["z"] < found.cars["x"] == found.finish_min


def test_a_due_day_is_met_where_it_can_be() -> None:
    tasks = (task("chain", 8), task("tail", 16), task("due", 8, due_min=DAY))
    problem = PlanProblem(
        tasks=tasks,
        links=(TaskLink(before="chain", after="tail"),),
        people=(person("Ann", "a"), person("Bo", "a")),
    )
    assert plan(problem).of("due").end_min <= DAY
    alone = PlanProblem(tasks=tasks, links=problem.links, people=problem.people[:1])
    assert plan(alone).of("due").end_min <= DAY


def test_due_days_that_clash_are_named() -> None:
    tasks = (task("one", 6, due_min=DAY), task("two", 6, due_min=DAY))
    with pytest.raises(NoSolutionError) as refused:
        plan(PlanProblem(tasks=tasks, people=(person("Ann", "a"),)))
    assert "one, two" in refused.value.clash[0]
    with pytest.raises(NoSolutionError, match="cannot end before"):
        plan(PlanProblem(tasks=(task("one", 9, due_min=DAY),), people=(person("Ann", "a"),)))


def test_people_who_are_never_in_together_are_named() -> None:
    early = WorkingTime(minutes=(480, 480, 0, 0, 0, 0, 0))
    late = WorkingTime(minutes=(0, 0, 480, 480, 0, 0, 0))
    crew = (person("Ann", "a", time=early), person("Bo", "a", time=late))
    with pytest.raises(NoSolutionError, match=r"lift needs 2 of trade a.*Ann, Bo"):
        plan(PlanProblem(tasks=(task("lift", 1, people=2),), people=crew))


def test_names_and_rings_are_checked() -> None:
    crew = (person("Ann", "a"),)
    with pytest.raises(InputError, match="one → two → one"):
        PlanProblem(
            tasks=(task("one", 1), task("two", 1)),
            links=(TaskLink(before="one", after="two"), TaskLink(before="two", after="one")),
            people=crew,
        )
    with pytest.raises(InputError, match="trade 'b'"):
        PlanProblem(tasks=(task("one", 1, "b"),), people=crew)
    with pytest.raises(InputError, match="bays of one"):
        PlanProblem(tasks=(task("one", 1, bays={"pit": 1}),), people=crew)
    with pytest.raises(InputError, match="low ≤ likely ≤ high"):
        Hours(low=3, likely=2, high=4)
    with pytest.raises(InputError, match="work_s"):
        plan(PlanProblem(tasks=(task("one", 1),), people=crew), work_s=0)


def test_no_task_is_a_plan_of_no_days() -> None:
    found = plan(PlanProblem(tasks=(), people=(person("Ann", "a"),)))
    assert (found.placed, found.days, found.proved) == ((), 0, True)


def hard() -> PlanProblem:
    """Hard enough that greedy plans alone prove nothing, and the solver is asked."""
    tasks = tuple(
        task(f"T{i}", 1 + i * i % 7, "ab"[i % 2], bays={"pit": 1 + i // 2 % 2}) for i in range(30)
    )
    links = tuple(TaskLink(before=f"T{i}", after=f"T{i + 7}") for i in range(23))
    crew = tuple(person(f"P{i}", "ab"[i % 2]) for i in range(4))
    return PlanProblem(tasks=tasks, links=links, people=crew, bays=(Bay(bay="pit", count=3),))


def test_progress_is_told_and_can_stop_the_search() -> None:
    problem = hard()
    told: list[float] = []
    plan(problem, work_s=0.5, progress=told.append)
    assert told[0] == 0
    assert told[-1] == 1
    assert told == sorted(told)

    def stop_at(least: float, most: float) -> Callable[[float], None]:
        def stop(share: float) -> None:
            if least <= share < most:
                raise StoppedError("enough")

        return stop

    # At once, between greedy plans, and in the solver.
    for least, most in ((0.0, 0.01), (0.01, 0.2), (0.2, 1.0)):
        with pytest.raises(StoppedError):
            plan(problem, work_s=0.5, progress=stop_at(least, most))


@pytest.mark.parametrize("share", [0.0, 0.01, 0.2, 0.5])
def test_whoever_has_enough_is_given_the_best_so_far(share: float) -> None:
    problem, said = hard(), list[float]()

    def enough(done: float) -> None:
        said.append(done)
        if done >= share:
            raise EnoughError

    found = plan(problem, work_s=2.0, progress=enough)
    assert broken_rules(problem, found) == []
    assert found.days_least <= found.days
    assert len([done for done in said if done >= share]) < 12  # nothing more was looked for
