"""The account of a car: every amount an entry of one measure, and sums over entries."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from asfound.plan.money.currency import rounded
from asfound.plan.money.entry import Entry, Measure, Planned, Used, Work
from asfound.plan.money.purchase import SIGN, Document, Kind, standings
from asfound.plan.money.tax import TaxedAmount, Totals, tax_totals

By = Literal["piece", "trade", "supplier", "change"]
BY: tuple[By, ...] = ("piece", "trade", "supplier", "change")
_ZERO = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """Sums of the four measures, and what they forecast."""

    estimate: Decimal = _ZERO
    committed: Decimal = _ZERO
    actual: Decimal = _ZERO
    remaining: Decimal = _ZERO

    @property
    def forecast(self) -> Decimal:
        """Cost at completion: actual, committed, and what remains of the estimate beyond both."""
        return self.actual + self.committed + self.remaining

    @property
    def over(self) -> Decimal:
        """By how much the forecast exceeds the estimate; negative where it stays below."""
        return self.forecast - self.estimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Statement:
    """Entries of a car's account; every sum is one over entries, so all of them agree."""

    entries: tuple[Entry, ...]
    digits: int

    @property
    def total(self) -> Figures:
        """Sums over the whole car."""
        return _figures(self.entries)

    def sums(self, by: By) -> dict[str, Figures]:
        """Sums by piece, trade, supplier or change order, in the order of their entries."""
        groups: dict[str, list[Entry]] = {}
        for entry in self.entries:
            groups.setdefault(getattr(entry, by), []).append(entry)
        return {name: _figures(several) for name, several in groups.items()}

    def tax(self, measure: Measure = Measure.ACTUAL) -> Totals:
        """Totals of one measure with the tax that the owner is charged."""
        return tax_totals(
            (
                TaxedAmount(net=entry.amount, percent=entry.percent)
                for entry in self.entries
                if entry.measure is measure
            ),
            digits=self.digits,
        )


def state_account(
    *,
    works: Sequence[Work] = (),
    planned: Sequence[Planned] = (),
    used: Sequence[Used] = (),
    documents: Sequence[Document] = (),
    finished: Collection[str] = (),
    percent: Decimal = _ZERO,
    own_rates: Sequence[Decimal] | None = None,
    digits: int,
) -> Statement:
    """Account of a car from its work, its plans and its documents.

    Parameters
    ----------
    works, planned, used, documents : sequence
    finished : collection of str
        Pieces on which nothing more is done: nothing of their estimate remains.
    percent : Decimal
        Rate of tax that the workshop charges now [%].
    own_rates : sequence of Decimal, optional
        Rate of tax that the owner is charged for each document; ``percent`` without it.
    digits : int
        Decimal places of the currency's minor unit.

    Notes
    -----
    The estimate is hours times rate, and what was planned for material and work outside. What
    remains of it is counted apart for the hours of each task and for the money of each piece:
    hours not worked yet of tasks not done, and planned money beyond what is ordered, invoiced or
    used. The forecast is actual + committed + remaining, the cost to date plus a bottom-up
    estimate to complete. Each entry is rounded once, half away from zero, and sums are exact.
    """
    rates = list(own_rates) if own_rates is not None else [percent] * len(documents)
    bought = [
        *_bought(documents, rates, percent, digits),
        *(_of_used(one, digits) for one in used),
    ]
    entries = [
        *(entry for work in works for entry in _of_work(work, finished, percent, digits)),
        *_of_planned(planned, bought, finished, percent, digits),
        *bought,
    ]
    return Statement(entries=tuple(entries), digits=digits)


def _of_work(
    work: Work, finished: Collection[str], percent: Decimal, digits: int
) -> Iterator[Entry]:
    left = _ZERO if work.piece in finished else work.hours_left
    for measure, hours in ((Measure.ESTIMATE, work.hours), (Measure.REMAINING, left)):
        amount = rounded(hours * work.rate, digits=digits)
        if amount:
            yield Entry(
                measure=measure,
                amount=amount,
                piece=work.piece,
                trade=work.trade,
                percent=percent,
                what=work.what,
            )
    for hours, rate, own_percent, cost in work.worked:
        yield Entry(
            measure=Measure.ACTUAL,
            amount=rounded(hours * rate, digits=digits),
            piece=work.piece,
            trade=work.trade,
            percent=own_percent,
            cost=None if cost is None else rounded(hours * cost, digits=digits),
            what=work.what,
        )


def _of_planned(
    planned: Sequence[Planned],
    bought: Iterable[Entry],
    finished: Collection[str],
    percent: Decimal,
    digits: int,
) -> Iterator[Entry]:
    spent: dict[str, Decimal] = {}
    for entry in bought:
        spent[entry.piece] = spent.get(entry.piece, _ZERO) + entry.amount
    for one in planned:
        amount = rounded(one.amount, digits=digits)
        taken = min(max(spent.get(one.piece, _ZERO), _ZERO), max(amount, _ZERO))
        spent[one.piece] = spent.get(one.piece, _ZERO) - taken
        left = _ZERO if one.piece in finished else amount - taken
        for measure, sum_ in ((Measure.ESTIMATE, amount), (Measure.REMAINING, left)):
            if sum_:
                yield Entry(
                    measure=measure, amount=sum_, piece=one.piece, percent=percent, what=one.what
                )


def _of_used(one: Used, digits: int) -> Entry:
    return Entry(
        measure=Measure.ACTUAL,
        amount=rounded(one.amount, digits=digits),
        piece=one.piece,
        trade=one.trade,
        percent=one.percent,
        what=one.what,
    )


def _bought(
    documents: Sequence[Document], rates: Sequence[Decimal], percent: Decimal, digits: int
) -> Iterator[Entry]:
    for standing, own in zip(standings(documents), rates, strict=True):
        document = standing.document
        for (piece, trade, change), charged in standing.open_charged.items():
            yield Entry(
                measure=Measure.COMMITTED,
                amount=rounded(charged, digits=digits),
                piece=piece,
                trade=trade,
                supplier=document.supplier,
                change=change,
                percent=percent,
                cost=rounded(standing.open_net[piece, trade, change], digits=digits),
                what=f"order {document.number}",
            )
        sign = SIGN.get(Kind(document.kind))
        for line in document.lines if sign else ():
            assert sign is not None
            yield Entry(
                measure=Measure.ACTUAL,
                amount=sign * rounded(line.charged, digits=digits),
                piece=line.piece,
                trade=line.trade,
                supplier=document.supplier,
                change=line.change,
                percent=own,
                cost=sign * rounded(line.net, digits=digits),
                what=line.what or f"{document.kind} {document.number}",
            )


def _figures(entries: Iterable[Entry]) -> Figures:
    sums = dict.fromkeys(Measure, _ZERO)
    for entry in entries:
        sums[entry.measure] += entry.amount
    return Figures(
        estimate=sums[Measure.ESTIMATE],
        committed=sums[Measure.COMMITTED],
        actual=sums[Measure.ACTUAL],
        remaining=sums[Measure.REMAINING],
    )
