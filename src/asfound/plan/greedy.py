"""Plans made task by task, each as early or as late as it goes: quick, lawful, seldom the best."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Mapping
from heapq import heapify, heappop, heappush

from asfound.plan.draft import Draft
from asfound.plan.ledger import Ledger, Span
from asfound.plan.reach import HorizonError, ready_at
from asfound.plan.shop import Shop
from asfound.plan.task import Task


def place_all(
    shop: Shop,
    rank: Mapping[str, float],
    *,
    fixed: Draft,
    floors: Mapping[str, int] | None = None,
    liked: Mapping[str, Mapping[int, int]] | None = None,
) -> Draft:
    """Plan in which each task, lowest rank first of those that may start, is as early as it goes.

    Parameters
    ----------
    shop : Shop
    rank : mapping of str to float
    fixed : Draft
        Tasks that stay where they are.
    floors : mapping of str to int
        Ticks before which tasks do not start.
    liked : mapping of str to (mapping of int to int)
        Teams that are taken where no other ends the task earlier.

    Raises
    ------
    HorizonError
        If the shop's days are too few.
    """
    ledger = _ledger(shop, fixed)
    start, end, crews = dict(fixed.start), dict(fixed.end), dict(fixed.crews)
    for name in _by_rank(shop, rank, done=set(start)):
        ready = max(ready_at(shop, name, end), (floors or {}).get(name, 0))
        team = (liked or {}).get(name)
        (start[name], end[name]), crews[name] = _place(shop, ledger, name, ready, team)
    return Draft(start=start, end=end, crews=crews)


def _ledger(shop: Shop, fixed: Draft) -> Ledger:
    ledger = Ledger(shop)
    for name, start in fixed.start.items():
        ledger.take(shop.problem.named[name], fixed.crews[name], start, fixed.end[name])
    return ledger


def _by_rank(shop: Shop, rank: Mapping[str, float], *, done: set[str]) -> Iterator[str]:
    waiting = {
        name: sum(link.before not in done for link in links)
        for name, links in shop.problem.links_to.items()
        if name not in done
    }
    ready = [(rank[name], name) for name, count in waiting.items() if not count]
    heapify(ready)
    while ready:
        _, name = heappop(ready)
        yield name
        for follower in shop.problem.after[name]:
            if follower in waiting:
                waiting[follower] -= 1
                if not waiting[follower]:
                    heappush(ready, (rank[follower], follower))


def _place(
    shop: Shop, ledger: Ledger, name: str, ready: int, liked: Mapping[int, int] | None
) -> tuple[Span, Mapping[int, int]]:
    task = shop.problem.named[name]
    teams = shop.teams(task)
    found: tuple[Span, Mapping[int, int]] | None = None
    for team in (liked, *teams) if liked in teams else teams:
        span = ledger.earliest(task, team, ready, before=found[0][1] if found else shop.total + 1)
        if span is not None:
            found = span, team
    found = found or _placed_with_others(shop, ledger, task, ready)
    if found is None:
        raise HorizonError(name)
    ledger.take(task, found[1], *found[0])
    return found


def _placed_with_others(
    shop: Shop, ledger: Ledger, task: Task, ready: int
) -> tuple[Span, Mapping[int, int]] | None:
    """With the first team that can, where none of those tried first ever can."""
    for team in shop.further_teams(task):
        span = ledger.earliest(task, team, ready, before=shop.total + 1)
        if span is not None:
            return span, team
    return None


def pushed_left(shop: Shop, draft: Draft, *, fixed: Draft) -> Draft:
    """The same plan with each task, in the order of the starts, as early as its team can begin.

    No task moves to a later time.
    """
    ledger = _ledger(shop, fixed)
    start, end = dict(fixed.start), dict(fixed.end)
    order = {name: place for place, name in enumerate(shop.problem.order)}
    loose = draft.start.keys() - fixed.start.keys()
    for name in sorted(loose, key=lambda n: (draft.start[n], order[n])):
        task, team = shop.problem.named[name], draft.crews[name]
        span = ledger.earliest(task, team, ready_at(shop, name, end), before=shop.total + 1)
        assert span is not None  # its own place is free
        start[name], end[name] = span
        ledger.take(task, team, *span)
    return Draft(start=start, end=end, crews=draft.crews)


def pushed_right(shop: Shop, draft: Draft, *, fixed: Draft) -> Draft:
    """The same plan with each task, from the last end back, as late as its team can end.

    Each car's finish stays, and no task moves to an earlier time; what is due stays within its day
    if it was.
    """
    finish: dict[str, int] = {}
    for name, tick in draft.end.items():
        car = shop.problem.named[name].car
        finish[car] = max(finish.get(car, 0), tick)
    ledger = _ledger(shop, fixed)
    start, end = dict(fixed.start), dict(fixed.end)
    order = {name: place for place, name in enumerate(shop.problem.order)}
    loose = draft.start.keys() - fixed.start.keys()
    for name in sorted(loose, key=lambda n: (-draft.end[n], -order[n])):
        task, team = shop.problem.named[name], draft.crews[name]
        last = finish[task.car]
        due = max(min(shop.dues.get(name, last), last), draft.end[name])
        span = ledger.latest(task, team, min(due, _due(shop, name, start, fixed)))
        assert span is not None  # its own place is free
        start[name], end[name] = span
        ledger.take(task, team, *span)
    return Draft(start=start, end=end, crews=draft.crews)


def _due(shop: Shop, name: str, start: Mapping[str, int], fixed: Draft) -> int:
    """Last tick at which a task may end before what comes after it."""
    due = shop.total
    for link in shop.problem.links_from[name]:
        if link.after not in fixed.start:
            late = start[link.after]
            # The table rises with the end, so the last end that is early enough is here.
            due = min(due, bisect_right(shop.lags(link), late) - 1 if link.lag_min else late)
    return due
