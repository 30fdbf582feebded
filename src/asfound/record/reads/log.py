"""Lines of the log."""

from __future__ import annotations

from typing import Any

from asfound.record.models import Car, Entry


def latest_entry(car: Car | None, action: str, *, by: Any) -> int:
    """Key of the line that a person's latest action of that kind left.

    Parameters
    ----------
    car : Car or None
        Whose log; ``None`` for what all cars share.
    action : str
    by : user
    """
    lines = Entry.objects.filter(car=car, action=action, by=by).order_by("-pk")
    return int(lines.values_list("pk", flat=True)[0])
