"""What a plan breaks, found minute by minute without any of the program's own reckoning."""

from __future__ import annotations

from collections import Counter

from asfound.plan import Bay, Placed, Plan, PlanProblem, Task, WorkingTime

DAY = 1440


def at_work(time: WorkingTime, minute: int, first_weekday: int) -> bool:
    """Whether somebody with this working time works in the minute that begins there."""
    day, of_day = divmod(minute, DAY)
    length = time.minutes[(day + first_weekday) % 7]
    begins = min(time.begins_min, DAY - length)
    away = any(first <= day <= last for first, last in time.away)
    return not away and begins <= of_day < begins + length


def shut(bay: Bay, minute: int) -> int:
    """How many places of a bay are closed in that minute."""
    return sum(first <= minute // DAY <= last for first, last in bay.closed)


def all_held(
    bay: str,
    minute: int,
    tasks: dict[str, Task],
    placed: dict[str, Placed],
    held: tuple[str, ...],
) -> bool:
    """Whether only what had begun is in the bay: that stays, whatever was closed meanwhile."""
    there = [
        name
        for name, place in placed.items()
        if bay in tasks[name].bays and place.start_min <= minute < place.end_min
    ]
    return set(there) <= set(held)


def broken_rules(problem: PlanProblem, plan: Plan, *, held: tuple[str, ...] = ()) -> list[str]:
    """Each rule that is broken, in words; none for a lawful plan."""
    people = {p.person: p for p in problem.people}
    tasks = {t.task: t for t in problem.tasks}
    places = {b.bay: b.count for b in problem.bays}
    bays = {b.bay: b for b in problem.bays}
    placed = {p.task: p for p in plan.placed}
    told: list[str] = []
    if sorted(placed) != sorted(tasks) or len(plan.placed) != len(tasks):
        told.append("a task is missing or twice")
    taken: Counter[tuple[str, int]] = Counter()
    for name, place in placed.items():
        task = tasks[name]
        minutes = range(place.start_min, place.end_min)
        for minute in minutes if task.hours.minutes else ():
            taken.update(("bay " + bay, minute) for bay in task.bays for _ in range(task.bays[bay]))
            taken.update(("person " + p, minute) for p in place.people)
        if name in held:
            continue
        if place.start_min < task.not_before_min:
            told.append(f"{name} starts too early")
        if task.due_min is not None and place.end_min > task.due_min:
            told.append(f"{name} ends after its due day")
        if len(set(place.people)) != task.people or len(place.people) != task.people:
            told.append(f"{name} has {place.people}")
        if any(task.trade not in people[p].trades for p in place.people):
            told.append(f"{name} is done by someone without the trade")
        works = [
            m
            for m in minutes
            if all(at_work(people[p].time, m, problem.first_weekday) for p in place.people)
            and (place.people or _open(problem, m))
        ]
        if len(works) != task.hours.minutes:
            told.append(f"{name} gets {len(works)} min of {task.hours.minutes}")
        if works and (works[0] != minutes[0] or works[-1] != minutes[-1]):
            told.append(f"{name} begins or ends while its people are not at work")
    for link in problem.links:
        if link.after not in held:
            gap = placed[link.after].start_min - placed[link.before].end_min
            if gap < link.lag_min:
                told.append(f"{link.before} → {link.after}: {gap} min between, not {link.lag_min}")
    for (what, minute), count in taken.items():
        bay = what.removeprefix("bay ") if what.startswith("bay ") else ""
        most = max(places[bay] - shut(bays[bay], minute), 0) if bay else 1
        if count > most and not (bay and all_held(bay, minute, tasks, placed, held)):
            told.append(f"{what} is taken {count} times in minute {minute}")
    return sorted(set(told))


def _open(problem: PlanProblem, minute: int) -> bool:
    some = problem.people
    return not some or any(at_work(p.time, minute, problem.first_weekday) for p in some)
