"""Order of work: each after what comes before it, and the rings where there is none."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence


def followers(names: Iterable[str], links: Iterable[tuple[str, str]]) -> dict[str, list[str]]:
    """What follows each name directly, in the order met."""
    found: dict[str, list[str]] = {name: [] for name in names}
    for before, after in links:
        found[before].append(after)
    return found


def in_order(after: Mapping[str, Sequence[str]]) -> list[str]:
    """Names so that each stands after what it follows; those in or behind a ring are left out."""
    waiting = dict.fromkeys(after, 0)
    for ends in after.values():
        for end in ends:
            waiting[end] += 1
    ready = [name for name, count in waiting.items() if not count]
    for name in ready:  # grows while it is read
        for end in after[name]:
            waiting[end] -= 1
            if not waiting[end]:
                ready.append(end)
    return ready


def ring(after: Mapping[str, Sequence[str]]) -> list[str]:
    """Names of one ring, each followed by the next and the last by the first; empty for none.

    Examples
    --------
    >>> ring({"a": ["b"], "b": ["c"], "c": ["b"]})
    ['b', 'c']
    """
    left = set(after) - set(in_order(after))
    if not left:
        return []
    before: dict[str, str] = {}
    for name in after:
        for end in after[name]:
            if name in left and end in left:
                before.setdefault(end, name)
    # Each name left has one before it that is left too: walking back must come round.
    path = [next(name for name in after if name in left)]
    while before[path[-1]] not in path:
        path.append(before[path[-1]])
    found = path[path.index(before[path[-1]]) :][::-1]
    first = min(range(len(found)), key=lambda i: list(after).index(found[i]))
    return found[first:] + found[:first]
