"""The work on one car: hours by task and trade beside what was thought, and the tables."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.files import table_as_file
from asfound.desk.work.lines import card_address
from asfound.desk.work.piece import record_address
from asfound.desk.work.told import HEADS
from asfound.record.convert.cards import Card, cards_of
from asfound.record.convert.stored import folder_of
from asfound.record.convert.work_words import hours_words
from asfound.record.reads.workshop import planning_folder


@dataclass(frozen=True, slots=True, kw_only=True)
class TaskLine:
    """One task: thought and worked."""

    card: Card
    address: str
    record: str
    worked: str
    state: str
    is_over: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class TradeLine:
    """One trade: of the tasks done, what they were thought to take and what they took."""

    trade: str
    tasks_n: int
    done_n: int
    likely: float
    likely_done: float
    worked_done: float
    worked: float


@login_required
@require_GET
def work(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the work on a car."""
    car = open_car_to_write(request, slug)
    cards = cards_of(planning_folder(car), now=timezone.now())
    return show(
        request,
        "work/of_car.html",
        car=car,
        room="work",
        lines=[_line(car.slug, card) for card in cards],
        trades=trade_lines(cards),
        done_n=sum(card.work.done for card in cards),
        running=[
            (name, card, card_address(car.slug, card.task))
            for card in cards
            for name in card.work.running
        ],
        unreadable_n=sum(card.work.unreadable_n for card in cards),
        tables=list(HEADS.items()),
    )


@login_required
@require_GET
def csv(request: HttpRequest, slug: str, table: str) -> HttpResponse:
    """Rows that count, as the car folder has them."""
    car = open_car_to_write(request, slug)
    if table not in HEADS:
        raise Http404(table)
    return table_as_file(folder_of(car), table, f"{slug}-{table}.csv")


def trade_lines(cards: Iterable[Card]) -> list[TradeLine]:
    """Hours by trade; only tasks that are done tell how the estimate held."""
    by_trade: dict[str, list[Card]] = {}
    for card in cards:
        by_trade.setdefault(card.trade, []).append(card)
    return [_trade(trade, several) for trade, several in by_trade.items()]


def _trade(trade: str, cards: list[Card]) -> TradeLine:
    done = [card for card in cards if card.work.done]
    return TradeLine(
        trade=trade,
        tasks_n=len(cards),
        done_n=len(done),
        likely=sum(card.thought for card in cards),
        likely_done=sum(card.thought for card in done),
        worked_done=sum(card.work.hours for card in done),
        worked=sum(card.work.hours for card in cards),
    )


def _line(slug: str, card: Card) -> TaskLine:
    return TaskLine(
        card=card,
        address=card_address(slug, card.task),
        record=record_address(slug, card.subject),
        worked=hours_words(card.work.hours) if card.work.people else "",
        state=_state(card),
        is_over=card.work.hours > card.high * card.people,
    )


def _state(card: Card) -> str:
    if card.work.done:
        return "done"
    if card.work.running:
        return f"{', '.join(card.work.running)} at it"
    if card.holds:
        return "held: " + "; ".join(hold.waits for hold in card.holds)
    if card.work.people:
        return "begun"
    return "waits" if card.waits else "ready"
