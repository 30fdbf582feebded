"""Plans made task by task, each as early as it goes: quick, lawful, seldom the best."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import numpy as np

from asfound.plan.draft import Draft
from asfound.plan.ledger import Ledger, splits
from asfound.plan.reach import HorizonError, Reach, ready_at
from asfound.plan.shop import Shop

MOST_SPLITS = 40
"""Ways to make up a team that are tried; more would only slow what is quick on purpose."""
WORK = 24_000
"""Tasks placed in all the tries together."""


def best_draft(
    shop: Shop, reach: Mapping[str, Reach], *, seed: int, fixed: Draft | None = None, floor: int = 0
) -> Draft:
    """The earliest finish of many greedy plans, their ranks blurred by lot.

    Raises
    ------
    HorizonError
        If the shop's days are too few for a plan made this way.
    """
    tries = int(np.clip(WORK // max(len(reach), 1), 5, 200))
    best, score = None, None
    for rank in _ranks(reach, tries, np.random.default_rng(seed)):
        draft = place_all(shop, rank, fixed=fixed, floors=dict.fromkeys(rank, floor))
        reached = (lateness(shop, draft), draft.finish)
        if score is None or reached < score:
            best, score = draft, reached
    assert best is not None
    return best


def lateness(shop: Shop, draft: Draft) -> int:
    """Ticks by which tasks miss their due days, all together."""
    due = {t.task: shop.tick_of(t.due_min) for t in shop.problem.tasks if t.due_min is not None}
    return sum(max(0, draft.end[name] - tick) for name, tick in due.items())


def _ranks(
    reach: Mapping[str, Reach], tries: int, rng: np.random.Generator
) -> Iterator[dict[str, float]]:
    """What is followed by most comes first; then the same with more and more blur."""
    tails = {name: float(r.tail + r.end - r.start) for name, r in reach.items()}
    longest = max(tails.values(), default=0.0) or 1.0
    for number in range(tries):
        blur = rng.normal(0.0, 0.3 * longest * number / tries, len(tails))
        yield {name: -tail + float(b) for (name, tail), b in zip(tails.items(), blur, strict=True)}


def place_all(
    shop: Shop,
    rank: Mapping[str, float],
    *,
    fixed: Draft | None = None,
    floors: Mapping[str, int] | None = None,
    liked: Mapping[str, Mapping[int, int]] | None = None,
) -> Draft:
    """Plan in which each task, lowest rank first of those that may start, is as early as it goes.

    Parameters
    ----------
    shop : Shop
    rank : mapping of str to float
    fixed : Draft or None
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
    ledger = Ledger(shop)
    start: dict[str, int] = {}
    end: dict[str, int] = {}
    crews: dict[str, Mapping[int, int]] = {}
    held = fixed or Draft(start={}, end={}, crews={})
    for name in held.start:
        start[name], end[name], crews[name] = held.start[name], held.end[name], held.crews[name]
        ledger.take(shop.problem.named[name], dict(crews[name]), start[name], end[name])
    for name in _by_rank(shop, rank, done=set(start)):
        ready = max(ready_at(shop, name, end), (floors or {}).get(name, 0))
        team = (liked or {}).get(name, {})
        start[name], end[name], crews[name] = _place(shop, ledger, name, ready, dict(team))
    return Draft(start=start, end=end, crews=crews)


def _by_rank(shop: Shop, rank: Mapping[str, float], *, done: set[str]) -> Iterator[str]:
    waiting = {
        name: sum(link.before not in done for link in links)
        for name, links in shop.problem.links_to.items()
        if name not in done
    }
    ready = {name for name, count in waiting.items() if not count}
    while ready:
        name = min(ready, key=lambda n: (rank[n], n))
        ready.remove(name)
        yield name
        for follower in shop.problem.after[name]:
            if follower in waiting:
                waiting[follower] -= 1
                if not waiting[follower]:
                    ready.add(follower)


def _place(
    shop: Shop, ledger: Ledger, name: str, ready: int, liked: dict[int, int]
) -> tuple[int, int, dict[int, int]]:
    task = shop.problem.named[name]
    sizes = [len(crew.people) for crew in shop.crews]
    teams = splits(shop.able(task), sizes, task.people)
    teams = ([liked] if liked in teams else []) + teams[:MOST_SPLITS]
    found: tuple[int, int, dict[int, int]] | None = None
    for team in teams:
        before = found[1] if found else shop.total + 1
        place = ledger.earliest(task, team, ready, before=before)
        if place is not None:
            found = (*place, team)
    if found is None:
        raise HorizonError(name)
    ledger.take(task, found[2], found[0], found[1])
    return found


def pushed_left(shop: Shop, draft: Draft, *, fixed: Draft | None = None) -> Draft:
    """The same plan with each task, in the order of the starts, as early as its team can begin.

    No task moves to a later time.
    """
    ledger = Ledger(shop)
    start, end = {}, {}
    held = fixed.start if fixed else {}
    order = {name: place for place, name in enumerate(shop.problem.order)}
    for name in held:
        ledger.take(
            shop.problem.named[name], dict(draft.crews[name]), draft.start[name], draft.end[name]
        )
    for name in sorted(draft.start, key=lambda n: (draft.start[n], order[n])):
        task, team = shop.problem.named[name], dict(draft.crews[name])
        if name in held:
            start[name], end[name] = draft.start[name], draft.end[name]
            continue
        place = ledger.earliest(task, team, ready_at(shop, name, end), before=shop.total + 1)
        assert place is not None
        start[name], end[name] = place
        ledger.take(task, team, *place)
    return Draft(start=start, end=end, crews=draft.crews)
