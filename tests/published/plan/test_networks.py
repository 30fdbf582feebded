"""Networks of handbooks: earliest and latest times, the critical path, mean and variance."""

from __future__ import annotations

import pytest

from asfound.plan import (
    Hours,
    Person,
    Placed,
    Plan,
    PlanProblem,
    Task,
    TaskLink,
    WorkingTime,
    critical_tasks,
    network_finish,
    network_times,
    plan,
    surprise,
)

DAY = 24 * 60
# activity: (predecessors, duration, earliest start, earliest finish, latest start, latest finish)
Network = dict[str, tuple[str, int, int, int, int, int]]
SEVEN: Network = {
    "A": ("", 6, 0, 6, 0, 6),
    "B": ("A", 2, 6, 8, 6, 8),
    "C": ("A", 2, 6, 8, 7, 9),
    "D": ("B", 3, 8, 11, 8, 11),
    "E": ("D F", 4, 11, 15, 11, 15),
    "F": ("C", 2, 8, 10, 9, 11),
    "G": ("E", 1, 15, 16, 15, 16),
}
EIGHT: Network = {
    "A": ("", 4, 0, 4, 0, 4),
    "B": ("A", 3, 4, 7, 7, 10),
    "C": ("A", 5, 4, 9, 4, 9),
    "D": ("A", 2, 4, 6, 7, 9),
    "E": ("B", 5, 7, 12, 10, 15),
    "F": ("C D", 6, 9, 15, 9, 15),
    "G": ("E F", 4, 15, 19, 15, 19),
    "H": ("G", 3, 19, 22, 19, 22),
}
NINE = {
    "A": ("", 3, 6, 15),
    "B": ("", 2, 4, 14),
    "C": ("A", 6, 12, 30),
    "D": ("A", 2, 5, 8),
    "E": ("C", 5, 11, 17),
    "F": ("D", 3, 6, 15),
    "G": ("B", 3, 9, 27),
    "H": ("E F", 1, 4, 7),
    "I": ("G H", 4, 19, 28),
}


def links_of(network: Network) -> tuple[tuple[str, str], ...]:
    return tuple((before, name) for name, row in network.items() for before in row[0].split())


@pytest.mark.source("Lecture sheet on the critical path method, seven activities, 16 h")
def test_seven_activities() -> None:
    check(SEVEN, finish=16, path="ABDEG")


@pytest.mark.source("Lecture slides on the critical path method, eight activities, 22 periods")
def test_eight_activities() -> None:
    check(EIGHT, finish=22, path="ACFGH")


def check(network: Network, *, finish: int, path: str) -> None:
    times = network_times({name: row[1] for name, row in network.items()}, links_of(network))
    for name, (_, _, *printed) in network.items():
        found = times[name]
        assert [
            found.early_start,
            found.early_finish,
            found.late_start,
            found.late_finish,
        ] == printed, name
        assert found.slack == printed[2] - printed[0]
    assert max(t.early_finish for t in times.values()) == finish
    assert "".join(name for name, t in times.items() if not t.slack) == path


@pytest.mark.source("Heizer and Render, Operations Management, Milwaukee Paper: 15 weeks")
@pytest.mark.from_memory
def test_milwaukee_paper() -> None:
    weeks = {"A": 2, "B": 3, "C": 2, "D": 4, "E": 4, "F": 3, "G": 5, "H": 2}
    links = tuple(tuple(pair) for pair in ["AC", "AD", "BD", "CE", "CF", "DG", "EG", "FH", "GH"])
    times = network_times(weeks, links)  # type: ignore[arg-type]
    assert max(t.early_finish for t in times.values()) == 15
    assert "".join(name for name, t in times.items() if not t.slack) == "ACEGH"


@pytest.mark.source("Lecture notes on PERT, nine activities: T 54, variance 41, P(≤ 53) 0.438")
def test_nine_activities_with_three_points() -> None:
    hours = {n: Hours(low=a, likely=m, high=b) for n, (_, a, m, b) in NINE.items()}
    links = tuple((before, name) for name, row in NINE.items() for before in row[0].split())
    found = network_finish(hours, links)
    assert found.mean == pytest.approx(54)
    assert found.variance == pytest.approx(41)
    assert found.path == ("A", "C", "E", "H", "I")
    assert round(found.chance_by(53), 3) == 0.438


@pytest.mark.source(
    "Taylor, Introduction to Management Science, ch. 8: 24 weeks, 5.0, P(≤ 28) .9633"
)
def test_chance_at_a_mean_and_a_variance() -> None:
    three = Hours(low=24 - 3 * 5**0.5, likely=24, high=24 + 3 * 5**0.5)
    found = network_finish({"all": three}, ())
    assert (found.mean, found.variance) == (pytest.approx(24), pytest.approx(5))
    # The book takes z = 1.79 from a table of two decimals.
    assert found.chance_by(28) == pytest.approx(0.9633, abs=5e-4)


@pytest.mark.source("Lecture sheet on the critical path method, seven activities, 16 h")
@pytest.mark.parametrize(
    ("network", "finish", "path"), [(SEVEN, 16, "ABDEG"), (EIGHT, 22, "ACFGH")]
)
def test_a_shop_with_hands_enough_plans_the_network(
    network: Network, finish: int, path: str
) -> None:
    always = WorkingTime.every_day(24, weekdays=7)
    crew = tuple(Person(person=f"P{i}", trades=("any",), time=always) for i in range(8))
    tasks = tuple(
        Task(task=name, hours=Hours.sure(row[1]), trade="any") for name, row in network.items()
    )
    links = tuple(TaskLink(before=one, after=two) for one, two in links_of(network))
    problem = PlanProblem(tasks=tasks, links=links, people=crew)
    found = plan(problem)
    assert found.proved
    assert found.finish_min == finish * 60
    assert found.days == pytest.approx(finish / 24)
    assert "".join(critical_tasks(problem, found)) == path


@pytest.mark.source("Lecture sheets on the critical path method: slack of each activity")
@pytest.mark.parametrize(("network", "finish"), [(SEVEN, 16), (EIGHT, 22)])
@pytest.mark.parametrize("days", [1, 2, 5])
def test_a_hold_eats_the_slack_and_then_moves_the_finish(
    network: Network, finish: int, days: int
) -> None:
    problem, earliest = in_days(network), as_early_as_printed(network)
    for name, (_, _, early, _, late, _) in network.items():
        held = in_days(network, held={name: early + days})
        found = surprise(problem, held, earliest, draws=20)
        later = max(0, days - (late - early))
        assert found.finish_later_min == later * DAY, (name, days)
        assert found.before.by(0.8) == finish * DAY
        assert found.after.by(0.8) == (finish + later) * DAY
        shifted = {one.task: one.later_min for one in found.shifts()}
        assert shifted[name] == days * DAY


@pytest.mark.source("Lecture sheet on the critical path method: activity F has one unit of slack")
def test_what_takes_longer_moves_what_follows_by_what_is_left_of_its_slack() -> None:
    longer = {**SEVEN, "F": ("C", 2 + 3, *SEVEN["F"][2:])}
    found = surprise(in_days(SEVEN), in_days(longer), as_early_as_printed(SEVEN), draws=20)
    assert found.finish_later_min == 2 * DAY
    assert {one.task: one.later_min / DAY for one in found.shifts()} == {"F": 3, "E": 2, "G": 2}


def in_days(network: Network, *, held: dict[str, int] | None = None) -> PlanProblem:
    """The network with its unit taken as days, and nobody to wait for."""
    held = held or {}
    tasks = [
        Task(
            task=name,
            hours=Hours.sure(24 * row[1]),
            people=0,
            not_before_min=held.get(name, 0) * DAY,
        )
        for name, row in network.items()
    ]
    links = tuple(TaskLink(before=a, after=b) for a, b in links_of(network))
    return PlanProblem(tasks=tuple(tasks), links=links)


def as_early_as_printed(network: Network) -> Plan:
    placed = tuple(
        Placed(task=name, start_min=row[2] * DAY, end_min=row[3] * DAY)
        for name, row in network.items()
    )
    finish = max(row[3] for row in network.values())
    return Plan(
        placed=placed, finish_min=finish * DAY, finish_least_min=0, days=finish, days_least=0
    )
