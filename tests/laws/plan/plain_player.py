"""How a shop goes on in one draw, hour by hour: slow, and too plain to be wrong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import combinations

from tests.laws.plan.broken_rules import at_work

from asfound.plan import Plan, PlanProblem

HOUR, LAST = 60, 60 * 24 * 120
NEVER = 10**9


@dataclass
class Player:
    """Tasks taken up one after another, in whole hours; bays without closed places."""

    problem: PlanProblem
    plan: Plan
    patience_min: int = 0
    more_min: dict[str, int] = field(default_factory=dict)
    free: dict[str, int] = field(default_factory=dict)
    places: dict[str, list[int]] = field(default_factory=dict)
    ends: dict[str, int] = field(default_factory=dict)
    took: list[tuple[str, tuple[str, ...], int]] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.places = {bay.bay: [0] * bay.count for bay in self.problem.bays}

    def play(self, work_min: dict[str, int]) -> dict[str, int]:
        """End of every task, whose order is found by the rule."""
        place = {name: i for i, name in enumerate(self.problem.order)}
        planned = {p.task: p for p in self.plan.placed}
        rows = sorted(planned, key=lambda name: (planned[name].start_min, place[name]))
        while len(self.ends) < len(rows):
            could = [
                (*self._would_begin(name, rows), rows.index(name), name)
                for name in rows
                if name not in self.ends
                and all(link.before in self.ends for link in self.problem.links_to[name])
            ]
            start, team, floor, _, name = min(could, key=lambda one: (one[0], one[3]))
            self._take(name, team, floor, start, work_min[name])
        return self.ends

    def again(
        self, took: list[tuple[str, tuple[str, ...], int]], work_min: dict[str, int]
    ) -> dict[str, int]:
        """End of every task, their order, teams and floors as they were."""
        for name, team, floor in took:
            self._take(name, team, floor, self._start(name, team, floor), work_min[name])
        return self.ends

    def _would_begin(self, name: str, rows: list[str]) -> tuple[int, tuple[str, ...], int]:
        task = self.problem.named[name]
        planned = self.plan.of(name)
        mine = tuple(sorted(planned.people)) if task.hours.high else ()
        turn = [other for other in self._just_before(name, rows) if other not in self.ends]
        waits = (self.plan.of(other).start_min + self.patience_min for other in turn)
        floor = max(waits, default=0)
        start = self._start(name, mine, floor)
        if start <= planned.start_min:
            return start, mine, floor
        mean = round((task.hours.low + 4 * task.hours.likely + task.hours.high) / 6 * 60)
        best = (self._end(mine, start, mean), start, mine)
        for team in self._others(name, mine):
            begins = self._start(name, team, floor)
            ends = self._end(team, begins, mean)
            if ends < best[0]:
                best = (ends, begins, team)
        return best[1], best[2], floor

    def _others(self, name: str, mine: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
        task = self.problem.named[name]
        if task.hours.high and task.people:
            able = [person.person for person in self.problem.able(task.trade)]
            yield from (t for t in combinations(able, task.people) if tuple(sorted(t)) != mine)

    def _just_before(self, name: str, rows: list[str]) -> set[str]:
        """Work that the plan puts directly before it at one of its people or places."""
        found: set[str] = set()
        here = self.plan.of(name)
        if not self.problem.named[name].hours.minutes:
            return found
        work = [r for r in rows[: rows.index(name)] if self.problem.named[r].hours.minutes]
        for person in here.people:
            found |= set([r for r in work if person in self.plan.of(r).people][-1:])
        for bay, need in self.problem.named[name].bays.items():
            count = next(b.count for b in self.problem.bays if b.bay == bay)
            found |= set(self._at_places(bay, count, need, work))
        return found - {link.before for link in self.problem.links_to[name]}

    def _at_places(self, bay: str, count: int, need: int, work: list[str]) -> list[str]:
        places: list[tuple[int, str]] = [(-1, "")] * count
        for name in work:
            own = self.problem.named[name].bays.get(bay, 0)
            places.sort()
            places[:own] = [(self.plan.of(name).end_min, name)] * own
        places.sort()
        return [name for _, name in places[:need] if name]

    def _start(self, name: str, team: tuple[str, ...], floor: int) -> int:
        task = self.problem.named[name]
        ready = max(
            [task.not_before_min, floor]
            + [self.ends[link.before] + link.lag_min for link in self.problem.links_to[name]]
            + [self.free.get(person, 0) for person in team]
        )
        if task.hours.high:
            for bay, need in task.bays.items():
                ready = max(ready, sorted(self.places[bay])[need - 1])
        return next((t for t in range(ready, LAST, HOUR) if self._works(team, t)), NEVER)

    def _end(self, team: tuple[str, ...], start: int, work: int) -> int:
        end = start
        while work and end < LAST:
            work -= HOUR * self._works(team, end)
            end += HOUR
        return end if not work else NEVER

    def _works(self, team: tuple[str, ...], hour: int) -> bool:
        if team:
            return all(self._in(person, hour) for person in team)
        return any(self._in(person.person, hour) for person in self.problem.people)

    def _in(self, name: str, hour: int) -> bool:
        person = next(p for p in self.problem.people if p.person == name)
        first, longer = self.problem.first_weekday, self.more_min.get(name, 0)
        late = hour - longer
        return at_work(person.time, hour, first) or (
            bool(longer) and late >= 0 and at_work(person.time, late, first)
        )

    def _take(self, name: str, team: tuple[str, ...], floor: int, start: int, work: int) -> None:
        task = self.problem.named[name]
        end = self._end(team, start, work) if task.hours.high else start
        self.ends[name] = end
        self.took.append((name, team, floor))
        for person in team:
            self.free[person] = end
        if task.hours.high:
            for bay, need in task.bays.items():
                self.places[bay].sort()
                self.places[bay][:need] = [end] * need
