"""Cards as pages list them: of which car, whose turn, in which order."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from urllib.parse import urlencode

from django.urls import reverse

from asfound.record.convert.cards import Card, cards_of, trades_called
from asfound.record.convert.plan import NO_DAY_NAMED
from asfound.record.derived import plan_at_hand
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.reads.past import shop_past
from asfound.record.results.shop_plan import PlannedShop

AT_IT, BEGUN, READY, HELD, LATER, WAITING = (
    "You are at it",
    "Begun",
    "Ready to begin",
    "Held",
    "Planned for later",
    "Waiting for other work",
)
GROUPS = (AT_IT, BEGUN, READY, HELD, LATER, WAITING)
TODAY = (AT_IT, BEGUN, READY, HELD)


@dataclass(frozen=True, slots=True, kw_only=True)
class CardLine:
    """One card of a list."""

    car: Car
    card: Card
    group: str
    address: str


def card_address(slug: str, task: str) -> str:
    """Address of a card."""
    return f"{reverse('card', args=(slug,))}?{urlencode({'task': task})}"


def lines_of(
    car: Car, folder: CarFolder, person: str, now: datetime, *, shop: PlannedShop | None
) -> Iterator[CardLine]:
    """Cards of a person on one car that are not done, in the order to do them.

    By the adopted plan of the shop, else by the car's own plan where one is at hand; else every
    open task of the person's trades, those first that come first in the table. What the person
    has begun is theirs in any case.
    """
    planned = _planned(car, folder, shop)
    trades = trades_called(folder, person)
    own = []
    for place, card in enumerate(cards_of(folder, now=now)):
        people, start = planned.get(card.task, ((), None))
        theirs = person in people if planned else card.trade in trades
        if not card.work.done and (theirs or person in card.work.people):
            own.append((start is None, start or datetime.min, place, replace(card, planned=start)))
    for *_, card in sorted(own, key=lambda one: one[:3]):
        group = group_of(card, person, now)
        yield CardLine(car=car, card=card, group=group, address=card_address(car.slug, card.task))


def group_of(card: Card, person: str, now: datetime) -> str:
    """Where the card stands among a person's cards."""
    if person in card.work.running:
        return AT_IT
    if card.holds:
        return HELD
    if person in card.work.people:
        return BEGUN
    if card.waits:
        return WAITING
    is_later = card.planned is not None and card.planned.date() > now.date()
    return LATER if is_later else READY


def grouped(lines: Iterable[CardLine]) -> list[tuple[str, list[CardLine]]]:
    """Lines under their headings, the most urgent first; headings without a line are left out."""
    there = list(lines)
    found = [(group, [line for line in there if line.group == group]) for group in GROUPS]
    return [(group, several) for group, several in found if several]


def _planned(
    car: Car, folder: CarFolder, shop: PlannedShop | None
) -> dict[str, tuple[tuple[str, ...], datetime | None]]:
    """People and start by task; empty where no plan is at hand."""
    adopted = {t.task: (t.people, t.start) for t in shop.tasks if t.car == car.slug} if shop else {}
    if adopted:
        return dict(adopted)
    result = plan_at_hand(folder, past=shop_past())
    if result is None or result.plan is None:
        return {}
    has_days = result.question.first_day != NO_DAY_NAMED
    return {
        one.task: (one.people, result.question.at(one.start_min) if has_days else None)
        for one in result.plan.placed
    }
