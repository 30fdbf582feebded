"""Names for the people that a plan takes from each crew."""

from __future__ import annotations

from collections.abc import Mapping

from asfound.plan.draft import Draft
from asfound.plan.shop import Shop


def name_people(
    shop: Shop, draft: Draft, *, before: Mapping[str, tuple[str, ...]]
) -> dict[str, tuple[str, ...]]:
    """Names by task: whoever had it ``before`` if free, else who has worked least so far.

    Notes
    -----
    People of a crew have the same working time, so the tasks of a crew are intervals of which at
    no moment more run than it has people: in the order of the starts there is always one free.
    """
    order = {name: place for place, name in enumerate(shop.problem.order)}
    free_at = {p.person: 0 for p in shop.problem.people}
    load = dict.fromkeys(free_at, 0)
    named: dict[str, tuple[str, ...]] = {}
    for name in sorted(draft.start, key=lambda n: (draft.start[n], draft.end[n], order[n])):
        kept = before.get(name, ())
        stands = draft.end[name] == draft.start[name]  # takes nobody's time
        chosen: list[str] = []
        for crew, count in sorted(draft.crews[name].items()):
            people = [p.person for p in shop.crews[crew].people]
            free = [p for p in people if free_at[p] <= draft.start[name] or stands]
            free.sort(key=lambda p: (p not in kept, load[p], people.index(p)))
            chosen += free[:count]
        for person in chosen:
            if not stands:
                free_at[person] = draft.end[name]
            load[person] += draft.end[name] - draft.start[name]
        named[name] = tuple(sorted(chosen, key=list(free_at).index))
    return named
