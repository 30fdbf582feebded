"""What the rule of going on looks up: tasks, teams, places and who follows whom, by number."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import combinations, islice

import numpy as np
import numpy.typing as npt

from asfound.plan.logic import Logic
from asfound.plan.pert import mean_of
from asfound.plan.step import Step
from asfound.plan.step_times import windows_of
from asfound.plan.teams import together_min
from asfound.plan.working_time import DAY_MIN, Windows

MOST_OTHERS = 11
"""Teams that may take up a task beside the planned one."""
_PEOPLE_BITS, _BAY_BITS = 40, 22

Numbers = npt.NDArray[np.intp]
Minutes = npt.NDArray[np.float64]
Team = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Tables:
    """A plan by numbers; the last row of each table of tasks is a task that never comes.

    Parameters
    ----------
    planned_min : ndarray, shape (tasks + 1,)
        Start in the plan.
    first_min : ndarray, shape (tasks + 1,)
        No start before it.
    expected_min : ndarray, shape (tasks + 1,)
        Mean of its work.
    works : ndarray of bool, shape (tasks + 1,)
        Whether it takes anybody's time.
    crews : tuple of tuple of int
        Every team, as numbers of people.
    members : ndarray, shape (teams, most people)
        The same, filled up with a person who is always free.
    teams : ndarray, shape (tasks + 1, most teams)
        Teams that can do it, the planned one first, filled up with that.
    teams_n : ndarray, shape (tasks + 1,)
    bays, needs : ndarray, shape (tasks + 1, most bays)
        Kinds of places that it holds and how many, filled up with a kind that is always free.
    after, lag_min : ndarray, shape (tasks + 1, most followers)
        What waits for its end along the links, and for how long after it.
    before_n : ndarray, shape (tasks + 1,)
        How many tasks it waits for along the links.
    in_turn : ndarray, shape (tasks + 1, most)
        What comes before it in the plan's order of work of its people and places alone.
    marks : ndarray of int64, shape (tasks + 1,)
        One bit for each person and bay of the plan; two tasks without a common bit share none.
    bay_marks, team_marks : ndarray of int64
        The same of its bays alone, and of each team.
    counts : tuple of int
        Places of each kind of bay.
    shut_from_min, shut_until_min : ndarray, shape (bays + 1, most closures)
        When one of its places cannot be used, filled up with never.
    """

    planned_min: Minutes
    first_min: Minutes
    expected_min: Minutes
    works: npt.NDArray[np.bool_]
    crews: tuple[Team, ...]
    members: Numbers
    teams: Numbers
    teams_n: Numbers
    bays: Numbers
    needs: Numbers
    after: Numbers
    lag_min: Minutes
    before_n: Numbers
    in_turn: Numbers
    marks: Numbers
    bay_marks: Numbers
    team_marks: Numbers
    counts: tuple[int, ...]
    shut_from_min: Minutes
    shut_until_min: Minutes

    @property
    def tasks_n(self) -> int:
        """Tasks, without the one that never comes."""
        return len(self.works) - 1


def tables_of(logic: Logic, *, days: int) -> Tables:
    """A plan by numbers, its tasks in the order of ``logic.steps``.

    Parameters
    ----------
    logic : Logic
    days : int
        In which a team must be in together to take anything up.
    """
    problem, steps = logic.problem, logic.steps
    people = {person.person: i for i, person in enumerate(problem.people)}
    bays = {bay.bay: i for i, bay in enumerate(problem.bays)}
    tasks = [problem.named[step.task] for step in steps]
    meets = _meetings([*windows_of(problem, days=days).values()], days)
    teams = [list(_teams_for(logic, step, people, meets)) for step in steps]
    crews = tuple(dict.fromkeys([(), *(team for several in teams for team in several)]))
    number = {crew: i for i, crew in enumerate(crews)}
    held = [
        [(bays[bay], need) for bay, need in task.bays.items()] if step.works else []
        for step, task in zip(steps, tasks, strict=True)
    ]
    links = [_links_to(logic, step) for step in steps]
    own = [[row for row, _ in step.waits if row not in dict(links[step.row])] for step in steps]
    followers = _turned([[row for row, _ in before] for before in links])
    lags = {(row, step.row): lag for step in steps for row, lag in links[step.row]}
    bay_marks = _marks([[_PEOPLE_BITS + b % _BAY_BITS for b, _ in one] for one in [*held, []]])
    team_marks = _marks([[person % _PEOPLE_BITS for person in crew] for crew in crews])
    planned = np.array([number[several[0]] for several in teams] + [0], dtype=np.intp)
    closures = [[*bay.closed] for bay in problem.bays] + [[]]
    return Tables(
        planned_min=_with_last([logic.planned_min[step.task] for step in steps]),
        first_min=_with_last([step.not_before_min for step in steps]),
        expected_min=_with_last([60 * mean_of(task.hours) for task in tasks]),
        works=np.array([*(step.works for step in steps), False]),
        crews=crews,
        members=_filled(crews, len(people)),
        teams=_filled([[number[t] for t in several] for several in teams] + [[0]], None),
        teams_n=np.array([*map(len, teams), 1], dtype=np.intp),
        bays=_filled([*([bay for bay, _ in one] for one in held), []], len(bays)),
        needs=_filled([*([need for _, need in one] for one in held), []], 1),
        after=_filled([*followers, []], len(steps)),
        lag_min=_filled(
            [[lags[row, after] for after in several] for row, several in enumerate(followers)]
            + [[]],
            0,
        ).astype(np.float64),
        before_n=np.array([*map(len, links), 0], dtype=np.intp),
        in_turn=_filled([*own, []], len(steps)),
        marks=bay_marks | team_marks[planned],
        bay_marks=bay_marks,
        team_marks=team_marks,
        counts=tuple(bay.count for bay in problem.bays),
        shut_from_min=_closures([[a * DAY_MIN for a, _ in several] for several in closures]),
        shut_until_min=_closures([[(z + 1) * DAY_MIN for _, z in several] for several in closures]),
    )


def _meetings(windows: Sequence[Windows], days: int) -> Callable[[Team], bool]:
    """Whether a team is ever in together."""

    @cache
    def meets(team: Team) -> bool:
        return together_min([windows[i] for i in team], days=days) > 0

    return meets


def _teams_for(
    logic: Logic, step: Step, people: Mapping[str, int], meets: Callable[[Team], bool]
) -> Iterator[Team]:
    """The planned team, then others that could take the task up; who began it stays with it."""
    planned = tuple(sorted(people[person] for person in step.people)) if step.works else ()
    yield planned
    task = logic.problem.named[step.task]
    if step.works and task.people and step.task not in logic.held:
        able = [people[person.person] for person in logic.problem.able(task.trade)]
        others = (team for team in combinations(able, task.people) if team != planned)
        yield from islice(filter(meets, others), MOST_OTHERS)


def _links_to(logic: Logic, step: Step) -> list[tuple[int, int]]:
    """Rows of what comes before a task along the links, each with its longest wait."""
    if step.task in logic.held:
        return []
    lags: dict[int, int] = {}
    for link in logic.problem.links_to[step.task]:
        row = logic.row[link.before]
        lags[row] = max(lags.get(row, 0), link.lag_min)
    return list(lags.items())


def _turned(before: Sequence[Sequence[int]]) -> list[list[int]]:
    """What follows each row, from what comes before each."""
    found: list[list[int]] = [[] for _ in before]
    for row, rows in enumerate(before):
        for one in rows:
            found[one].append(row)
    return found


def _filled(rows: Sequence[Sequence[int]], fill: int | None) -> Numbers:
    """Rows as one array, filled up with a number, or each with its own first."""
    width = max(1, *map(len, rows))
    return np.array(
        [[*row, *[row[0] if fill is None else fill] * (width - len(row))] for row in rows],
        dtype=np.intp,
    )


def _closures(rows: Sequence[Sequence[int]]) -> Minutes:
    width = max(map(len, rows))
    return np.array([[*row, *[-1.0] * (width - len(row))] for row in rows], dtype=np.float64)


def _marks(several: Sequence[Sequence[int]]) -> Numbers:
    return np.array([sum(1 << bit for bit in set(bits)) for bits in several], dtype=np.intp)


def _with_last(numbers: Sequence[float]) -> Minutes:
    return np.array([*numbers, 0.0], dtype=np.float64)
