"""Generated shops: people of several trades and hours, absences, bays, links with waiting."""

from __future__ import annotations

from hypothesis import strategies as st

from asfound.plan import Bay, Hours, Person, PlanProblem, Task, TaskLink, WorkingTime

TRADES = ("mechanic", "trimmer")


@st.composite
def working_times(draw: st.DrawFn) -> WorkingTime:
    hours = draw(st.sampled_from([4, 6, 8]))
    weekdays = draw(st.sampled_from([3, 5, 7]))
    first = draw(st.integers(0, 4))
    away = draw(st.sampled_from([(), ((first, first),), ((first, first + 2),)]))
    whole = WorkingTime.every_day(hours, weekdays=weekdays)
    return WorkingTime(minutes=whole.minutes, away=away)


@st.composite
def problems(draw: st.DrawFn, *, most_tasks: int = 6) -> PlanProblem:
    """A shop in which every task can be done."""
    people = tuple(
        Person(
            person=f"P{i}",
            trades=draw(st.sampled_from([TRADES[:1], TRADES[1:], TRADES])),
            time=draw(working_times()),
        )
        for i in range(draw(st.integers(1, 3)))
    )
    count = draw(st.integers(1, most_tasks))
    tasks = tuple(_task(draw, f"T{i}", people) for i in range(count))
    pairs = [(i, j) for j in range(count) for i in range(j)]
    chosen = draw(st.lists(st.sampled_from(pairs), max_size=4, unique=True)) if pairs else []
    links = tuple(
        TaskLink(before=f"T{i}", after=f"T{j}", lag_min=60 * draw(st.sampled_from([0, 0, 3, 20])))
        for i, j in chosen
    )
    return PlanProblem(
        tasks=tasks,
        links=links,
        people=people,
        bays=(
            Bay(
                bay="pit",
                count=draw(st.integers(1, 2)),
                closed=draw(st.sampled_from([(), (), ((1, 2),), ((0, 1), (1, 3))])),
            ),
        ),
        first_weekday=draw(st.sampled_from([0, 4])),
    )


def _task(draw: st.DrawFn, name: str, people: tuple[Person, ...]) -> Task:
    trade = draw(st.sampled_from(sorted({t for p in people for t in p.trades})))
    able = sum(trade in p.trades for p in people)
    return Task(
        task=name,
        hours=Hours.sure(draw(st.sampled_from([0, 2, 5, 7, 11]))),
        trade=trade,
        people=draw(st.sampled_from([1, 1, 1, min(2, able), 0])),
        bays=draw(st.sampled_from([{}, {"pit": 1}])),
        not_before_min=1440 * draw(st.sampled_from([0, 0, 1])),
    )
