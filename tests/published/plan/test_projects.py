"""Published optima of scheduling with scarce resources, and a second solver on small shops."""

from __future__ import annotations

import random

import numpy as np
import pytest
from benchmarks.plan import read_instance
from scipy import optimize

from asfound.plan import Bay, Hours, PlanProblem, Task, TaskLink, plan

# Each row: duration, need of four resources, how many follow, which. Optimum 43.
J30_1_1 = """32 4 12 13 4 12
0 0 0 0 0 3 2 3 4  8 4 0 0 0 3 6 11 15  4 10 0 0 0 3 7 8 13  6 0 0 0 3 3 5 9 10
3 3 0 0 0 1 20  8 0 0 0 8 1 30  5 4 0 0 0 1 27  9 0 1 0 0 3 12 19 27  2 6 0 0 0 1 14
7 0 0 0 1 2 16 25  9 0 5 0 0 2 20 26  2 0 7 0 0 1 14  6 4 0 0 0 2 17 18  3 0 8 0 0 1 17
9 3 0 0 0 1 25  10 0 0 0 5 2 21 22  6 0 0 0 8 1 22  5 0 0 0 7 2 20 22  3 0 1 0 0 2 24 29
7 0 10 0 0 2 23 25  2 0 0 0 6 1 28  7 2 0 0 0 1 23  2 3 0 0 0 1 24  3 0 9 0 0 1 30
3 4 0 0 0 1 30  7 0 0 4 0 1 31  8 0 0 0 7 1 28  3 0 8 0 0 1 31  7 0 7 0 0 1 32
2 0 7 0 0 1 32  2 0 0 2 0 1 32  0 0 0 0 0 0"""
# Every task needs every kind of resource or nearly so; optimum 82.
J30_45_1 = """32 4 15 14 15 14
0 0 0 0 0 3 2 3 4  2 3 9 1 9 3 5 8 14  4 8 8 3 10 3 8 22 31  4 3 4 3 1 3 6 10 11
1 1 7 6 4 3 6 7 12  10 1 2 5 4 2 19 27  10 7 5 7 10 3 15 16 23  7 6 3 1 3 2 9 25
2 1 8 7 6 3 16 17 24  7 2 9 3 4 2 12 13  2 8 5 3 3 3 17 20 27  3 1 6 8 2 3 18 19 21
4 1 9 10 7 3 15 18 20  3 5 8 2 5 3 15 16 23  3 3 10 4 9 3 17 19 21  5 8 9 10 7 1 30
6 9 8 8 5 1 29  1 8 2 6 8 3 23 26 31  9 8 1 7 9 3 22 25 31  7 6 8 5 4 2 21 22
4 5 3 4 10 3 24 25 29  5 4 5 10 6 2 24 26  5 8 5 5 7 2 27 28  8 4 4 4 2 1 28
4 4 10 7 8 2 26 28  3 4 10 3 1 1 30  8 10 10 7 1 1 29  7 7 3 6 6 1 30  9 5 1 10 7 1 32
6 3 2 4 5 1 32  2 7 3 2 8 1 32  0 0 0 0 0 0"""
SOURCE = (
    "PSPLIB, sets j30 (instances 1_1 and 45_1) and their optima: Kolisch, R. and Sprecher, A. "
    "(1996), PSPLIB – a project scheduling problem library, EJOR 96, 205–216"
)


@pytest.mark.source(SOURCE)
@pytest.mark.parametrize(("instance", "optimum"), [(J30_1_1, 43), (J30_45_1, 82)])
def test_published_optimum_is_reached_and_proved(instance: str, optimum: int) -> None:
    found = plan(read_instance(instance))
    assert found.finish_min == optimum * 60
    assert found.proved


@pytest.mark.source("scipy.optimize.milp (HiGHS) on the time-indexed model of Pritsker et al. 1969")
@pytest.mark.parametrize("seed", range(6))
def test_a_second_solver_finds_the_same_finish(seed: int) -> None:
    problem = small_project(seed)
    found = plan(problem)
    assert found.proved
    assert found.finish_min == 60 * by_periods(problem)


def small_project(seed: int) -> PlanProblem:
    draw = random.Random(seed)
    bays = (Bay(bay="A", count=3), Bay(bay="B", count=2))
    tasks = tuple(
        Task(
            task=f"T{i}",
            hours=Hours.sure(draw.randint(1, 5)),
            people=0,
            bays={b.bay: need for b in bays if (need := draw.randint(0, b.count))},
        )
        for i in range(8)
    )
    pairs = [(i, j) for j in range(8) for i in range(j)]
    links = tuple(TaskLink(before=f"T{i}", after=f"T{j}") for i, j in draw.sample(pairs, 7))
    return PlanProblem(tasks=tasks, links=links, bays=bays)


def by_periods(problem: PlanProblem) -> int:
    """Shortest finish in whole hours: one yes-or-no variable for each task and start."""
    tasks = [*problem.tasks, Task(task="end", hours=Hours.sure(0), people=0)]
    length = {t.task: t.hours.minutes // 60 for t in tasks}
    links = [(k.before, k.after) for k in problem.links] + [(t.task, "end") for t in problem.tasks]
    periods = sum(length.values()) + 1
    place = {(t.task, p): i * periods + p for i, t in enumerate(tasks) for p in range(periods)}
    rows, low, high = [], [], []

    def row(terms: dict[int, float], least: float, most: float) -> None:
        line = np.zeros(len(place))
        for index, value in terms.items():
            line[index] += value
        rows.append(line)
        low.append(least)
        high.append(most)

    for task in tasks:
        row({place[task.task, p]: 1.0 for p in range(periods)}, 1, 1)
    for one, two in links:
        late = {place[two, p]: float(p) for p in range(periods)}
        row({**late, **{place[one, p]: -float(p) for p in range(periods)}}, length[one], np.inf)
    for bay in problem.bays:
        for p in range(periods):
            running = {
                place[t.task, q]: float(t.bays[bay.bay])
                for t in tasks
                if bay.bay in t.bays
                for q in range(max(0, p - length[t.task] + 1), p + 1)
            }
            row(running, 0, bay.count)
    aim = np.zeros(len(place))
    aim[[place["end", p] for p in range(periods)]] = range(periods)
    result = optimize.milp(
        aim,
        constraints=optimize.LinearConstraint(np.array(rows), low, high),
        integrality=np.ones(len(place)),
        bounds=optimize.Bounds(0, 1),
    )
    return round(result.fun)
