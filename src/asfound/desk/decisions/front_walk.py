"""The points of the front one after another, each against the choice that stands."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from asfound.choose import Choice, Front, FrontPoint
from asfound.desk.templatetags.desk import machine, money, share

NAMED = 3


def walk(front: Front, choice: Choice, *, slug: str, currency: str) -> list[dict[str, Any]]:
    """What is said at each point of the front, in rising cost, and where it leads."""
    beside = reverse("variants", args=(slug,))
    return [
        {
            "said": _said(point, choice, currency),
            "href": f"{beside}?cost={machine(point.cost)}",
            "is_chosen": point.cost == choice.cost and point.kept == choice.kept,
        }
        for point in front.points
    ]


def _said(point: FrontPoint, choice: Choice, currency: str) -> str:
    others = [s for s, option in point.options.items() if choice.options.get(s) != option]
    what = f"keeps {share(point.kept)} for {money(point.cost, currency)}"
    if not others:
        return f"{what}; this is the choice"
    named = ", ".join(sorted(others)[:NAMED])
    more = f" and {len(others) - NAMED} more" if len(others) > NAMED else ""
    beyond = "" if point.within_brief else "; beyond the brief"
    return f"{what}{beyond}; other than the choice at {named}{more}"
