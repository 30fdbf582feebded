"""A plan near the plan so far: nothing earlier than it was, and the rest pushed on."""

from __future__ import annotations

from collections.abc import Mapping

from asfound.plan.draft import Draft
from asfound.plan.greedy import place_all
from asfound.plan.horizon import Outlook
from asfound.plan.plan import Plan
from asfound.plan.reach import HorizonError


def nearest_draft(outlook: Outlook, best: Draft, earlier: Plan) -> Draft:
    """The plan so far with what is in the way pushed on, if that is as good as the best.

    Where the shop is beyond the solver, it is taken even if it finishes later: there the best is
    only the best of many tries, and tomorrow's cards are worth more than a day at the end. Of
    several cars up to a working day of each is given for them, and no more, so that a new priority
    counts.
    """
    shop = outlook.shop
    was = {p.task: shop.tick_of(p.start_min) for p in earlier.placed if p.task in outlook.reach}
    after_all = max(was.values(), default=0) + 1
    rank = {name: float(was.get(name, after_all)) for name in outlook.reach}
    try:
        near = place_all(
            shop, rank, fixed=outlook.fixed, floors=was, liked=_crews(outlook, earlier)
        )
    except HorizonError:
        return best
    lost = outlook.cars.value(near) - outlook.cars.value(best)
    late = lost > _most_lost(outlook) and (outlook.cars.several or not outlook.beyond_solver)
    return best if late or near.finish > outlook.shop.total else near


def _most_lost(outlook: Outlook) -> int:
    """What may be given for tomorrow's cards: a working day of each of several cars."""
    if not outlook.cars.several:
        return 0
    day = outlook.shop.total / max(outlook.shop.days_to(outlook.shop.total), 1.0)
    return round(day * sum(outlook.cars.weights.values()))


def _crews(outlook: Outlook, earlier: Plan) -> Mapping[str, Mapping[int, int]]:
    """How many people of each crew had each task."""
    crew_of = {p.person: i for i, c in enumerate(outlook.shop.crews) for p in c.people}
    found: dict[str, dict[int, int]] = {}
    for placed in earlier.placed:
        found[placed.task] = {}
        for person in placed.people:
            if person in crew_of:
                crew = crew_of[person]
                found[placed.task][crew] = found[placed.task].get(crew, 0) + 1
    return found
