"""The promise: what it must be where it can be worked out, and what moves it."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from asfound.base import InputError
from asfound.plan import (
    Bay,
    Hours,
    Person,
    Placed,
    Plan,
    PlanProblem,
    Task,
    TaskLink,
    WorkingTime,
    critical_tasks,
    plan,
    promise,
)
from asfound.plan.logic import Logic
from asfound.plan.policy import Policy
from asfound.plan.promise import draws_for
from asfound.plan.three_point import draw_hours, hours_at

ALWAYS = WorkingTime.every_day(24, weekdays=7)
DOUBT = Hours(low=2, likely=4, high=12)


def shop(tasks: tuple[Task, ...], *links: tuple[str, str], people: int = 1) -> PlanProblem:
    crew = tuple(Person(person=f"P{i}", trades=("any",), time=ALWAYS) for i in range(people))
    return PlanProblem(
        tasks=tasks,
        links=tuple(TaskLink(before=one, after=two) for one, two in links),
        people=crew,
    )


def task(name: str, hours: Hours = DOUBT) -> Task:
    return Task(task=name, hours=hours, trade="any")


def test_one_task_finishes_as_its_own_hours_do() -> None:
    problem = shop((task("only"),))
    found = promise(problem, plan(problem), seed=1)
    beta = stats.beta(1 + 4 * 0.2, 1 + 4 * 0.8, loc=2, scale=10)
    assert beta.mean() == pytest.approx((2 + 4 * 4 + 12) / 6)
    for chance in (0.05, 0.5, 0.8, 0.95):
        assert found.by(chance) / 60 == pytest.approx(beta.ppf(chance), abs=0.12)
    assert found.chance_by(60 * beta.ppf(0.8)) == pytest.approx(0.8, abs=0.015)


def test_hours_are_those_of_the_beta_distribution() -> None:
    chance = np.array([0.001, 0.1, 0.5, 0.9, 0.999])
    for low, likely, high in ((2, 4, 12), (1, 1, 5), (0, 5, 5)):
        share = (likely - low) / (high - low)
        beta = stats.beta(1 + 4 * share, 5 - 4 * share, loc=low, scale=high - low)
        found = hours_at(Hours(low=low, likely=likely, high=high), chance)
        assert found == pytest.approx(beta.ppf(chance), abs=1e-3 * (high - low))


def test_without_doubt_every_draw_is_the_plan() -> None:
    part_day = WorkingTime(minutes=(480, 300, 480, 0, 480, 0, 0), away=((4, 9),))
    people = (
        Person(person="Ann", trades=("a", "b"), time=part_day),
        Person(person="Bo", trades=("b",), time=WorkingTime.every_day(6)),
    )
    tasks = tuple(
        Task(task=f"T{i}", hours=Hours.sure(h), trade="ab"[i % 2], people=n, bays={"pit": 1})
        for i, (h, n) in enumerate([(5, 1), (7, 2), (3, 1), (9, 1), (0, 1), (4, 1)])
    )
    links = (TaskLink(before="T0", after="T3", lag_min=1000), TaskLink(before="T4", after="T5"))
    problem = PlanProblem(tasks=tasks, links=links, people=people, bays=(Bay(bay="pit", count=2),))
    made = plan(problem)
    logic = Logic(problem, made)
    ends = logic.ends(logic.likely_min()[:, None])[:, 0]
    assert {s.task: ends[s.row] for s in logic.steps} == {p.task: p.end_min for p in made.placed}
    found = promise(problem, made, draws=50)
    assert found.finishes_min == pytest.approx(np.full(50, made.finish_min))


def test_tasks_of_one_trade_share_doubt_and_others_do_not() -> None:
    tasks = [task("a"), task("b"), Task(task="c", hours=DOUBT, trade="other")]
    drawn = draw_hours(tasks, draws=20_000, rng=np.random.default_rng(0), shared=0.5)
    ranks = stats.spearmanr(drawn, axis=1).statistic
    # Rank correlation of a normal copula: 6/π · arcsin(ρ/2).
    assert ranks[0, 1] == pytest.approx(6 / np.pi * np.arcsin(0.25), abs=0.02)
    assert ranks[0, 2] == pytest.approx(0, abs=0.02)


def test_shared_doubt_widens_the_promise() -> None:
    names = [f"T{i}" for i in range(12)]
    problem = shop(tuple(task(n) for n in names))
    made = plan(problem)
    apart, together = (promise(problem, made, shared=s, why=False) for s in (0.0, 0.6))
    assert together.by(0.95) - together.by(0.05) > 1.5 * (apart.by(0.95) - apart.by(0.05))


def test_tail_and_overtime_name_who_holds_it_up() -> None:
    problem = PlanProblem(
        tasks=(
            Task(task="long", hours=Hours(low=20, likely=30, high=90), trade="a"),
            Task(task="short", hours=Hours(low=1, likely=2, high=3), trade="b"),
            Task(task="end", hours=Hours.sure(2), trade="a"),
        ),
        links=(TaskLink(before="long", after="end"), TaskLink(before="short", after="end")),
        people=tuple(
            Person(person=p, trades=(t,), time=WorkingTime.every_day(8))
            for p, t in (("Ann", "a"), ("Bo", "b"))
        ),
    )
    found = promise(problem, plan(problem))
    assert [d.task for d in found.drivers] == ["long"]
    assert [o.person for o in found.overtime] == ["Ann"]
    assert found.overtime[0].days_earlier > 0
    assert found.overtime[0].hours_a_day > 1
    assert critical_tasks(problem, plan(problem)) == ("long", "end")


def test_each_car_has_what_makes_it_late_and_what_a_day_earlier_costs() -> None:
    problem = PlanProblem(
        tasks=(
            Task(task="g", hours=Hours(low=20, likely=30, high=90), trade="a", car="grey"),
            Task(task="r", hours=Hours(low=12, likely=16, high=50), trade="b", car="red"),
        ),
        people=tuple(
            Person(person=p, trades=(t,), time=WorkingTime.every_day(8))
            for p, t in (("Ann", "a"), ("Bo", "b"))
        ),
    )
    found = promise(problem, plan(problem))
    red, grey = found.of("red"), found.of("grey")
    assert ([d.task for d in red.drivers], [o.person for o in red.overtime]) == (["r"], ["Bo"])
    assert ([d.task for d in grey.drivers], [o.person for o in grey.overtime]) == (["g"], ["Ann"])
    assert found.drivers == grey.drivers  # the grey one sets the finish
    curve = red.curve_min()
    assert [curve[50], curve[80], curve[95]] == [round(red.by(c)) for c in (0.5, 0.8, 0.95)]


def late_part(*, colleague: bool) -> tuple[PlanProblem, Plan]:
    """Ann is to fit what Bo brings by noon, then to sew; a colleague of hers may be there."""
    day = WorkingTime.every_day(8)
    trades = {"Ann": ("fit",), "Bo": ("bring",)} | ({"Cy": ("fit",)} if colleague else {})
    problem = PlanProblem(
        tasks=(
            Task(task="bring", hours=Hours(low=4, likely=4, high=22), trade="bring"),
            Task(task="fit", hours=Hours.sure(4), trade="fit"),
            Task(task="sew", hours=Hours.sure(4), trade="fit"),
        ),
        links=(TaskLink(before="bring", after="fit"),),
        people=tuple(Person(person=p, trades=t, time=day) for p, t in trades.items()),
    )
    placed = (
        Placed(task="bring", start_min=8 * 60, end_min=12 * 60, people=("Bo",)),
        Placed(task="fit", start_min=12 * 60, end_min=16 * 60, people=("Ann",)),
        Placed(task="sew", start_min=32 * 60, end_min=36 * 60, people=("Ann",)),
    )
    return problem, Plan(
        placed=placed, finish_min=36 * 60, finish_least_min=0, days=2, days_least=0
    )


@pytest.mark.parametrize(
    ("hours", "ends"),
    [
        (4, (12, 16, 36)),  # as planned: Monday noon, Monday 16:00, Tuesday noon
        (3, (11, 15, 35)),  # sooner, in order: an hour of sewing is left of Monday
        (6, (14, 36, 16)),  # late at noon, so she sews until 16:00 and fits on Tuesday
        (22, (62, 82, 16)),  # he brings it on Wednesday at 14:00
    ],
)
def test_what_is_late_gives_way_to_what_is_ready(
    hours: int, ends: tuple[float, float, float]
) -> None:
    problem, made = late_part(colleague=False)
    policy = Policy(Logic(problem, made))
    course = policy.course(60 * np.array([[hours], [4], [4]], dtype=np.float64))
    assert course.end_min[:, 0].tolist() == [60 * end for end in ends]


def test_a_colleague_with_the_trade_takes_up_what_is_late() -> None:
    problem, made = late_part(colleague=True)
    policy = Policy(Logic(problem, made))
    course = policy.course(60 * np.array([[6], [4], [4]], dtype=np.float64))
    # Ann sews from noon; what comes at 14:00 is fitted by Cy until Tuesday 10:00.
    assert course.end_min[:, 0].tolist() == [14 * 60, 34 * 60, 16 * 60]
    assert policy.tables.crews[course.team[1, 0]] == (2,)


def test_what_keeps_its_turn_waits_for_what_is_late() -> None:
    problem, made = late_part(colleague=False)
    policy = Policy(Logic(problem, made), patience_min=3 * 60)
    work_min = 60 * np.array([[6, 8], [4, 4], [4, 4]], dtype=np.float64)
    course = policy.course(work_min)
    # What comes at 14:00 is fitted till Tuesday 10:00; what comes at 16:00 is passed over at
    # 15:00, when she begins to sew until Tuesday 11:00.
    assert (course.end_min / 60).T.tolist() == [[14, 34, 38], [16, 39, 35]]


def test_a_shop_is_as_patient_as_suits_it() -> None:
    """What is late by an hour sets the finish, and another task would keep Ann for days."""
    day = WorkingTime.every_day(8)
    problem = PlanProblem(
        tasks=(
            Task(task="bring", hours=Hours(low=4, likely=4, high=6), trade="bring"),
            Task(task="fit", hours=Hours.sure(4), trade="fit"),
            Task(task="paint", hours=Hours.sure(80), trade="bring"),
            Task(task="sew", hours=Hours.sure(40), trade="fit"),
        ),
        links=(TaskLink(before="bring", after="fit"), TaskLink(before="fit", after="paint")),
        people=tuple(
            Person(person=p, trades=(t,), time=day) for p, t in (("Ann", "fit"), ("Bo", "bring"))
        ),
    )
    made = plan(problem)
    found = promise(problem, made, why=False)
    assert found.patience_min > 0
    # Ten days of paint from Monday 16:00, with at most two hours more, and two weekends.
    assert found.by(1.0) <= made.finish_min + 2 * 60 + 16 * 60


def test_more_tasks_are_drawn_less_often() -> None:
    assert [draws_for(n) for n in (0, 1, 150)] == [10_000] * 3
    assert draws_for(450) == round(10_000 / 3**1.5)
    assert promise(*late_part(colleague=False), why=False).draws == 10_000


def test_a_task_whose_jobs_spread_of_their_own_is_log_normal() -> None:
    sure = Task(task="only", hours=Hours.sure(10), trade="any", own_log=0.5)
    drawn = draw_hours([sure], draws=40_000, rng=np.random.default_rng(2))
    for chance in (0.1, 0.5, 0.9):
        expected = stats.lognorm(0.5, scale=10).ppf(chance)
        assert np.quantile(drawn, chance) == pytest.approx(expected, rel=0.03)


def test_same_seed_same_promise() -> None:
    problem = shop((task("a"), task("b")), ("a", "b"))
    made = plan(problem)
    first, again, other = (promise(problem, made, seed=s, why=False) for s in (3, 3, 4))
    assert (first.finishes_min == again.finishes_min).all()
    assert (first.finishes_min != other.finishes_min).any()


@pytest.mark.parametrize(("draws", "shared"), [(0, 0.3), (10, -0.1), (10, 1.1)])
def test_numbers_out_of_range_are_refused(draws: int, shared: float) -> None:
    problem = shop((task("a"),))
    with pytest.raises(InputError):
        promise(problem, plan(problem), draws=draws, shared=shared)
