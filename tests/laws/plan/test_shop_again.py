"""A plan of the shop at any moment: lawful, what has begun stays, and nothing moves by itself."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from tests.laws.plan.broken_rules import broken_rules

from asfound.plan import critical_tasks, plan, promise
from asfound.record.convert.shop import CarAtWork
from asfound.record.convert.shop_now import ShopNow, shop_now
from asfound.record.folder import CarFolder, Sheet
from asfound.record.results.plan_moves import moves_between
from asfound.record.results.planned_shop import planned_shop
from asfound.record.results.shop_plan import PlannedShop

SOME = settings(
    max_examples=6,
    deadline=None,
    suppress_health_check=list(HealthCheck),
    phases=(Phase.generate,),
)
PEOPLE = Sheet(
    columns=("person", "trades", "hours_per_day", "days", "away"),
    rows=(
        ("Ann", "panel", "8", "", ""),
        ("Bo", "panel;paint", "6", "Mon–Thu", "2026-03-10/2026-03-11"),
    ),
)
BAYS = Sheet(
    columns=("bay", "count", "closed"),
    rows=(("bench", "1", "2026-03-12/2026-03-16"), ("booth", "1", "")),
)
LINKS = Sheet(
    columns=("before", "after", "lag_hours"),
    rows=(("strip", "paint", ""), ("paint", "hang", "24")),
)
TASKS = Sheet(
    columns=("task", "name", "trade", "hours_low", "hours_likely", "hours_high", "people", "bay"),
    rows=(
        ("strip", "Strip", "panel", "4", "6", "10", "", "bench"),
        ("paint", "Paint", "paint", "6", "9", "12", "", "booth"),
        ("hang", "Hang", "panel", "1", "2", "3", "2", ""),
    ),
)
CARS = ("grey", "red")
BEGAN = "2026-03-02T08:00:00Z"

states = st.sampled_from(["open", "begun", "runs", "done"])


def stretch(task: str, state: str) -> tuple[str, ...]:
    person = "Bo" if task == "paint" else "Ann"
    ended = "" if state == "runs" else "2026-03-02T11:00:00Z"
    return (task, person, BEGAN, ended, "yes" if state == "done" else "")


@st.composite
def shops(draw: st.DrawFn) -> list[CarAtWork]:
    """Two cars on which work has begun anyhow, two of them at the same bench perhaps."""
    cars = []
    for name in CARS:
        worked = [(row[0], draw(states)) for row in TASKS.rows]
        sheets = {
            "tasks": TASKS,
            "task_links": LINKS,
            "people": PEOPLE,
            "bays": BAYS,
            "worked": Sheet(
                columns=("task", "person", "from_at", "to_at", "done"),
                rows=tuple(stretch(task, state) for task, state in worked if state != "open"),
            ),
        }
        priority = draw(st.sampled_from([1.0, 3.0]))
        cars.append(CarAtWork(name=name, folder=CarFolder(sheets=sheets), priority=priority))
    return cars


def planned(here: ShopNow, now: datetime) -> PlannedShop:
    problem = here.question.problem
    found = plan(problem, work_s=0.5, earlier=here.earlier)
    assert broken_rules(problem, found, held=tuple(here.earlier.held)) == []
    for name, placed in here.earlier.held.items():
        assert found.of(name) == placed
    return planned_shop(
        here.question,
        found,
        promise(problem, found, draws=50, held=frozenset(here.earlier.held), why=False),
        critical_tasks(problem, found),
        names={},
        cars={car: (car, None) for car in CARS},
        begun=frozenset(here.earlier.held),
        made_at=now.replace(tzinfo=None),
    )


@SOME
@given(shops(), st.sampled_from([2, 4, 9]), st.sampled_from([6, 10, 13, 20]))
def test_it_breaks_no_rule_and_made_again_it_moves_nothing(
    cars: list[CarAtWork], day: int, hour: int
) -> None:
    now = datetime(2026, 3, day, hour, 12, tzinfo=UTC)
    here = shop_now(cars, now=now, adopted=None)
    if here is None:
        return
    first = planned(here, now).numbered(None, at=now.isoformat())
    assert all(task.start >= now.replace(tzinfo=None) for task in first.tasks)
    assert PlannedShop.from_json(first.to_json()) == first
    again = shop_now(cars, now=now + timedelta(minutes=5), adopted=first)
    assert again is not None
    second = planned(again, now)
    if first.proved:
        moves = moves_between(first, second)
        assert (moves.moved, moves.new, moves.gone) == ((), (), ())
        numbered = second.numbered(first, at="2026-03-20T00:00:00+00:00")
        assert [t.sequence for t in numbered.tasks] == [t.sequence for t in first.tasks]
