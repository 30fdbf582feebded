"""The chain that a finish hangs on, worked out by hand."""

from __future__ import annotations

from dataclasses import replace

from asfound.plan import (
    Bay,
    Governor,
    Hours,
    Person,
    PlanProblem,
    Task,
    TaskLink,
    WorkingTime,
    governors,
    plan,
)

DAY = WorkingTime.every_day(8, weekdays=7)


def task(name: str, hours: float, trade: str, *bays: str, day: int = 0, car: str = "a") -> Task:
    return Task(
        task=name,
        hours=Hours.sure(hours),
        trade=trade,
        bays=dict.fromkeys(bays, 1),
        not_before_min=1440 * day,
        car=car,
    )


def shop(*tasks: Task, links: tuple[TaskLink, ...] = (), bays: tuple[Bay, ...] = ()) -> PlanProblem:
    people = tuple(
        Person(person=name, trades=(trade,), time=DAY)
        for name, trade in (("Ann", "panel"), ("Bo", "paint"))
    )
    return PlanProblem(tasks=tasks, links=links, people=people, bays=bays)


def chain(problem: PlanProblem, car: str = "a") -> tuple[Governor, ...]:
    tasks = [one.task for one in problem.tasks if one.car == car]
    return governors(problem, plan(problem), tasks)


def test_a_link_and_the_time_in_which_it_dries_govern() -> None:
    links = (
        TaskLink(before="strip", after="paint"),
        TaskLink(before="paint", after="hang", lag_min=1440),
    )
    problem = shop(
        task("strip", 8, "panel"), task("paint", 8, "paint"), task("hang", 8, "panel"), links=links
    )
    assert chain(problem) == (
        Governor(task="strip", kind="start"),
        Governor(task="paint", kind="task", before="strip"),
        Governor(task="hang", kind="waiting", before="paint"),
    )


def test_somebody_who_is_at_another_car_governs() -> None:
    """The day on which each may begin settles their order: Ann is at the other car first."""
    problem = shop(task("long", 40, "panel", car="b"), task("short", 8, "panel", day=1))
    found = chain(problem)
    assert found in (
        (
            Governor(task="long", kind="start"),
            Governor(task="short", kind="person", before="long", of="Ann"),
        ),
        (Governor(task="short", kind="day"),),
    )
    assert (
        len(found) == 2 or plan(problem).of("long").start_min > plan(problem).of("short").start_min
    )


def test_a_bay_that_another_holds_governs() -> None:
    problem = shop(
        task("first", 8, "panel", "booth"),
        task("then", 16, "paint", "booth"),
        task("last", 8, "panel", day=2),
        bays=(Bay(bay="booth", count=1),),
        links=(TaskLink(before="first", after="last"),),
    )
    governed = {one.task: one for one in governors(problem, plan(problem), ["then", "first"])}
    late = max(("then", "first"), key=lambda name: plan(problem).of(name).start_min)
    other = "first" if late == "then" else "then"
    assert governed[late] == Governor(task=late, kind="bay", before=other, of="booth")


def test_a_day_and_a_bay_that_is_shut_govern() -> None:
    assert chain(shop(task("early", 1, "paint", car="b"), task("held", 8, "panel", day=5))) == (
        Governor(task="held", kind="day"),
    )
    shut = shop(
        task("early", 1, "panel", car="b"),
        task("booked", 8, "paint", "booth"),
        bays=(Bay(bay="booth", count=1, closed=((0, 3),)),),
    )
    assert chain(shut) == (Governor(task="booked", kind="closed", of="booth"),)


def test_what_has_begun_waits_for_nothing_even_on_a_day_off() -> None:
    """It goes on when its people are next in, and no other task keeps it until then."""
    problem = shop(task("begun", 8, "panel"), task("other", 8, "paint"))
    made = plan(problem)
    (on_monday,) = (replace(one, start_min=2 * 1440) for one in made.placed if one.task == "begun")
    later = replace(made, placed=(made.of("other"), on_monday))
    held = governors(problem, later, ["begun"], held=frozenset({"begun"}))
    assert held == (Governor(task="begun", kind="start"),)


def test_nothing_planned_hangs_on_nothing() -> None:
    problem = shop(task("one", 1, "panel"))
    assert governors(problem, plan(problem), []) == ()
