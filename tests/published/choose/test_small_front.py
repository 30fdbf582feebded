"""A small choice whose whole front is known, and a second solver on larger ones."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize
from tests.laws.choose.cases import make_problem

from asfound.base import NoSolutionError
from asfound.choose import Brief, Option, Problem, Subject, choose, front

# Own instance, six pieces with four options each; the whole front confirmed by brute force of
# all 4,096 choices. Columns: retained fabric 0–10, fitness for use 0–10, hours.
TABLE = {
    "bonnet paint": {
        "leave as found": (10, 2, 0),
        "clean": (9, 4, 4),
        "reintegrate": (7, 6, 14),
        "refinish": (1, 9, 40),
    },
    "seat trim": {
        "leave as found": (10, 1, 0),
        "stabilise": (9, 5, 10),
        "repair": (7, 7, 22),
        "replace with new": (0, 9, 30),
    },
    "carburettor": {
        "leave as found": (10, 0, 0),
        "clean": (9, 3, 3),
        "overhaul": (8, 9, 12),
        "replace period": (2, 8, 6),
    },
    "floor pan": {
        "leave as found": (10, 1, 0),
        "stabilise": (9, 4, 8),
        "repair": (6, 8, 30),
        "replace with new": (1, 9, 45),
    },
    "wiring loom": {
        "leave as found": (10, 0, 0),
        "repair": (8, 5, 16),
        "overhaul": (6, 7, 24),
        "replace with new": (0, 9, 28),
    },
    "bumper plating": {
        "leave as found": (10, 3, 0),
        "clean": (9, 5, 3),
        "refinish": (3, 9, 12),
        "replace period": (1, 8, 5),
    },
}
HOURS = 90
# retained fabric, fitness
FRONT = [
    (33, 43),
    (36, 42),
    (39, 41),
    (43, 40),
    (47, 38),
    (49, 36),
    (50, 34),
    (52, 32),
    (53, 30),
    (54, 28),
    (55, 25),
    (56, 23),
    (57, 20),
    (58, 16),
    (59, 11),
    (60, 7),
]
MOST_FIT = 10


def small_problem(**brief: object) -> Problem:
    """Fitness takes the axis of cost: what a piece lacks to the most fit is what it costs."""
    options = tuple(
        Option(
            subject=piece,
            option=name,
            treatment=name,
            kept=kept / 10,
            grade=fit / 2,
            cost=MOST_FIT - fit,
            hours={"workshop": hours},
        )
        for piece, ways in TABLE.items()
        for name, (kept, fit, hours) in ways.items()
    )
    return Problem(
        subjects=tuple(Subject(subject=piece) for piece in TABLE),
        options=options,
        brief=Brief(hours_max={"workshop": HOURS}, **brief),  # type: ignore[arg-type]
    )


@pytest.mark.source(
    "own instance of 6 pieces and 4 options under 90 h, whole front confirmed by brute force "
    "of 4,096 choices"
)
def test_whole_front_of_sixteen_points_comes_out() -> None:
    found = front(small_problem())
    assert found.exact
    points = [(round(p.kept * 60), MOST_FIT * 6 - round(p.cost)) for p in found.points]
    assert points == FRONT


@pytest.mark.source("the same instance: the point of the front at each level of fitness")
@pytest.mark.parametrize(("kept", "fitness"), FRONT)
def test_choice_at_each_level_is_the_point_of_the_front(kept: int, fitness: int) -> None:
    choice = choose(small_problem(cost_max=MOST_FIT * 6 - fitness))
    assert round(choice.kept * 60) == kept
    assert choice.cost == MOST_FIT * 6 - fitness
    assert choice.hours["workshop"] <= HOURS


@pytest.mark.source("the same instance: no choice is fitter than 43 within 90 h")
def test_fitter_than_the_fittest_clashes_with_the_hours() -> None:
    with pytest.raises(NoSolutionError) as refused:
        choose(small_problem(cost_max=MOST_FIT * 6 - 44))
    assert [words.split(" (")[0] for words in refused.value.clash] == [
        "cost at most 16",
        "hours of workshop at most 90",
    ]


@pytest.mark.source("scipy.optimize.milp, the same problem written down without this package")
@pytest.mark.parametrize("seed", range(6))
def test_second_solver_keeps_as_much(seed: int) -> None:
    problem = make_problem(60_000 + seed, subjects=25, calm=True)
    expected = by_scipy(problem)
    if expected is None:
        with pytest.raises(NoSolutionError):
            choose(problem)
        return
    assert choose(problem).kept == pytest.approx(expected, abs=1e-9)


def by_scipy(problem: Problem) -> float | None:
    """Most kept by another formulation: bounds for what may not be, products for shares."""
    place = {(o.subject, o.option): i for i, o in enumerate(problem.options)}
    shares = [k for k in problem.links if k.kind == "shares"]
    n = len(place) + len(shares)
    weights = {s.subject: s.weight for s in problem.subjects}
    rows, low, high = [], [], []

    def row(terms: dict[int, float], least: float, most: float) -> None:
        line = np.zeros(n)
        for column, value in terms.items():
            line[column] += value
        rows.append(line)
        low.append(least)
        high.append(most)

    for s in problem.subjects:
        row({i: 1 for (name, _), i in place.items() if name == s.subject}, 1, 1)
    for j, k in enumerate(shares):
        for end in ((k.subject, k.option), (k.other_subject, k.other_option)):
            row({len(place) + j: 1, place[end]: -1}, -np.inf, 0)
    for k in problem.links:
        one, two = place[k.subject, k.option], place[k.other_subject, k.other_option]
        if k.kind == "excludes":
            row({one: 1, two: 1} if one != two else {one: 2}, -np.inf, 1)
        if k.kind == "requires" and one != two:
            row({one: 1, two: -1}, -np.inf, 0)
    brief = problem.brief
    if brief.cost_max is not None:
        terms = {i: o.cost for i, o in enumerate(problem.options)}
        row(
            terms | {len(place) + j: -k.saves_cost for j, k in enumerate(shares)},
            -np.inf,
            brief.cost_max,
        )
    for trade, most in brief.hours_max.items():
        terms = {i: o.hours[trade] for i, o in enumerate(problem.options)}
        saved = {len(place) + j: -k.saves_hours for j, k in enumerate(shares) if k.trade == trade}
        row(terms | saved, -np.inf, most)
    floors = {
        s.subject: max(s.min_grade, brief.min_grade.get(s.zone, 0) if s.zone else 0)
        for s in problem.subjects
    }
    may = [float(o.safe and o.grade >= floors[o.subject]) for o in problem.options]
    aim = [-weights[o.subject] * o.kept for o in problem.options] + [0.0] * len(shares)
    result = optimize.milp(
        aim,
        constraints=optimize.LinearConstraint(np.array(rows), low, high),
        integrality=np.ones(n),
        bounds=optimize.Bounds(0, [*may, *[1.0] * len(shares)]),
        options={"mip_rel_gap": 0.0},
    )
    return None if result.x is None else float(-result.fun / sum(weights.values()))
