"""What a task waits for and what waits for it, in words: its links may lie on other days."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.record.results.shop_plan import Key, PlannedShop, PlannedTask


@dataclass(frozen=True, slots=True, kw_only=True)
class Near:
    """A task at the other end of a link."""

    task: PlannedTask
    is_before: bool


def near_of(shop: PlannedShop, of: Key) -> list[Near]:
    """Tasks that one waits for, then those that wait for it, each in the order of their starts."""
    tasks, (car, name) = shop.by_key, of
    own = [(one, two) for c, one, two in shop.links if c == car and name in (one, two)]
    found = [
        Near(task=tasks[car, two if one == name else one], is_before=two == name)
        for one, two in own
        if (car, one) in tasks and (car, two) in tasks
    ]
    return sorted(found, key=lambda near: (not near.is_before, near.task.start))
