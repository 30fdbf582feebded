"""Why the due days cannot be met, in words."""

from __future__ import annotations

from asfound.base import NoSolutionError
from asfound.plan.horizon import Outlook


def refusal(outlook: Outlook, *, ended: bool) -> NoSolutionError:
    """Refusal that names each task that is due before it can end, or else all that are due.

    Parameters
    ----------
    outlook : Outlook
    ended : bool
        Whether the search proved that there is no plan; else it only found none.
    """
    shop, reach = outlook.shop, outlook.reach
    alone = [
        f"{name} is due after {_days(shop.days_to(tick))} of the shop, and cannot end "
        f"before {shop.days_to(reach[name].end):.4g} of them have passed"
        for name, tick in shop.dues.items()
        if reach[name].end > tick
    ]
    if alone:
        return NoSolutionError(f"There is no plan: {'; '.join(alone)}.", clash=tuple(alone))
    found = "cannot all be met" if ended else "could not all be met in the time given"
    reason = f"the due days of {', '.join(shop.dues)} {found} with these people and bays"
    return NoSolutionError(f"There is no plan: {reason}.", clash=(reason,))


def _days(count: float) -> str:
    return f"{count:.4g} working day{'' if count == 1 else 's'}"
