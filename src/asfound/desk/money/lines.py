"""The account as tables of a page: sums, documents, payments, change orders."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from django.utils import timezone

from asfound.plan.money import By, Figures, Kind, rounded
from asfound.record.convert.money import CarAccount
from asfound.record.convert.money_documents import name_of
from asfound.record.convert.money_rates import rates_of
from asfound.record.folder import CarFolder, Row
from asfound.record.models import Car, Observation
from asfound.record.results.money import NAMED

COUNTING = (Kind.ORDER, Kind.INVOICE, Kind.CREDIT)


@dataclass(frozen=True, slots=True, kw_only=True)
class DocumentLine:
    """A document as the list shows it; ``pk`` is that of its first line."""

    pk: int
    kind: str
    supplier: str
    number: str
    dated: str
    net: Decimal
    open_net: Decimal
    words: str
    counts: bool
    papers_n: int
    pieces: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ChangeLine:
    """A signed change order with what it changes in money."""

    number: int
    title: str
    signed_on: Any
    by: str
    cost: Decimal
    hours: Decimal
    amount: Decimal
    days: int | None


def sum_rows(account: CarAccount, by: By) -> list[tuple[str, Figures]]:
    """Groups by name with their figures, the largest forecast first."""
    sums = account.statement.sums(by)
    rows = [(name or NAMED[by], figures) for name, figures in sums.items()]
    return sorted(rows, key=lambda row: (-row[1].forecast, row[0]))


def document_lines(car: Car, account: CarAccount) -> list[DocumentLine]:
    """Documents that count, the newest first."""
    found: dict[tuple[str, str, str], list[Observation]] = {}
    for row in car.observations.current().filter(table="purchases"):
        found.setdefault(name_of(Row(row.cells, 0)), []).append(row)
    told = [
        DocumentLine(
            pk=rows[0].pk,
            kind=str(one.document.kind),
            supplier=one.document.supplier,
            number=rows[0].cells["number"],
            dated=one.document.day,
            net=one.document.net,
            open_net=sum(one.open_net.values(), Decimal(0)),
            words=one.words,
            counts=one.document.kind in COUNTING,
            papers_n=len(papers_in(rows)),
            pieces=", ".join(dict.fromkeys(line.piece for line in one.document.lines)),
        )
        for rows, one in zip(found.values(), account.documents, strict=True)
    ]
    return sorted(told, key=lambda line: (line.dated, line.pk), reverse=True)


def papers_in(rows: list[Observation]) -> list[str]:
    """Paths of the papers that rows name, each once."""
    named = (path.strip() for row in rows for path in row.cells.get("paper", "").split(";"))
    return list(dict.fromkeys(path for path in named if path))


def change_lines(car: Car, folder: CarFolder, digits: int) -> list[ChangeLine]:
    """Signed change orders, the first first; hours are valued at today's rates of the trades."""
    signed = car.proposals.signed().filter(withdrawn_at=None).exclude(follows=None)
    rates, today = rates_of(folder), timezone.localdate()
    return [
        ChangeLine(
            number=one.number,
            title=one.title,
            signed_on=one.signature.signed_at,
            by=one.signature.typed_name,
            cost=Decimal(str(one.content["effect"]["cost"])),
            hours=Decimal(str(one.content["effect"]["hours"])),
            days=one.content["effect"].get("days"),
            amount=rounded(
                Decimal(str(one.content["effect"]["cost"]))
                + sum(
                    (
                        hours * (rates.hour(trade=trade, day=today) or Decimal(0))
                        for trade, hours in _hours(one)
                    ),
                    Decimal(0),
                ),
                digits=digits,
            ),
        )
        for one in signed.select_related("signature", "follows").order_by("number")
    ]


def _hours(one: Any) -> Iterator[tuple[str, Decimal]]:
    """Change of hours by trade against the proposal that it follows."""
    before, after = one.follows.content["sums"]["hours"], one.content["sums"]["hours"]
    for trade in dict.fromkeys([*before, *after]):
        yield trade, Decimal(str(after.get(trade, 0))) - Decimal(str(before.get(trade, 0)))
