"""How late each task may end for a given finish, whoever else wants the people."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping

from asfound.plan.draft import Draft
from asfound.plan.shop import Shop


def latest_ends(shop: Shop, finish: int, *, fixed: Draft) -> Mapping[str, int] | None:
    """Latest end [tick] of every task along the links; None if the finish cannot be met.

    Parameters
    ----------
    shop : Shop
    finish : int
        Tick by which the last task must have ended.
    fixed : Draft
        Tasks that stand where they stand.
    """
    ends: dict[str, int] = {}
    begins: dict[str, int] = {}
    for name in reversed(shop.problem.order):
        task = shop.problem.named[name]
        ends[name] = finish
        if task.due_min is not None:
            ends[name] = min(finish, shop.tick_of(task.due_min))
        if name in fixed.start:
            begins[name] = fixed.start[name]
            if fixed.end[name] > finish:
                return None
            continue
        for link in shop.problem.links_from[name]:
            if link.after in fixed.start:
                continue  # it has started, whatever came before it
            late = begins[link.after]
            if link.lag_min:
                # The table rises with the end, so the last end that is early enough is here.
                late = bisect_right(shop.lags(link), late) - 1
            ends[name] = min(ends[name], late)
        begin = shop.loosest[name].latest_begin(ends[name], shop.ticks(task.hours.minutes))
        if begin is None or ends[name] < 0:
            return None
        begins[name] = begin
    return ends
