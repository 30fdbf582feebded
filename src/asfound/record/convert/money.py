"""The account of a car from its tables: decisions, tasks, work, materials, documents, payments."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from asfound.plan.money import (
    Document,
    Measure,
    Planned,
    Standing,
    Statement,
    Totals,
    Used,
    amount_due,
    minor_digits,
    standings,
    state_account,
)
from asfound.record.convert.errands import days_of
from asfound.record.convert.money_documents import documents_of, plain
from asfound.record.convert.money_rates import rates_of
from asfound.record.convert.money_work import WHOLE_CAR, CostRates, Valuer, works_of
from asfound.record.folder import CarFolder, Row

_ZERO = Decimal(0)


@dataclass(frozen=True, slots=True, kw_only=True)
class CarAccount:
    """What a car was thought to cost, costs, and will have cost.

    Parameters
    ----------
    currency : str
    digits : int
    statement : Statement
    documents : tuple of Standing
    paid : Decimal
        By the owner, with tax.
    not_valued : tuple of str
        What could not be counted, and why.
    """

    currency: str
    digits: int
    statement: Statement
    documents: tuple[Standing, ...] = ()
    paid: Decimal = _ZERO
    not_valued: tuple[str, ...] = ()

    @property
    def charged(self) -> Totals:
        """What was done and bought so far, with the tax that the owner is charged."""
        return self.statement.tax()

    @property
    def due(self) -> Decimal:
        """What the owner still owes for what was done and bought so far, with tax."""
        return amount_due(self.charged, paid=self.paid)


def account_of(
    car: CarFolder, *, now: datetime, costs: CostRates | None = None, currency: str = ""
) -> CarAccount:
    """Account of a car as it stands now.

    Parameters
    ----------
    car : CarFolder
    now : datetime
        With a zone; stretches of work that go on count until then.
    costs : mapping, optional
        What an hour costs the workshop, by trade or person.
    currency : str
        Of a car that names none.

    Raises
    ------
    InputError
        If the car's currency is not known.

    Notes
    -----
    The hours of a piece are those of its tasks; a signed piece without tasks has the hours of its
    option. The money of an option is for material and work outside.
    """
    currency = next((row.text("currency") for row in car.sheet("car")), "") or currency
    digits = minor_digits(currency)
    rates, today = rates_of(car), now.date()
    valuer = Valuer(rates=rates, costs=costs or {}, now=now)
    signed = list(_signed(car))
    documents = documents_of(car.sheet("purchases"))
    statement = state_account(
        works=[*works_of(car, signed, valuer)],
        planned=[*_planned(car, signed)],
        used=[*_used(car, valuer)],
        documents=documents,
        finished=_finished(car),
        percent=rates.charged_percent(today),
        own_rates=[rates.charged_percent(_day(d.day, today)) for d in documents],
        digits=digits,
    )
    return CarAccount(
        currency=currency,
        digits=digits,
        statement=statement,
        documents=standings(documents),
        paid=_paid(car),
        not_valued=(*valuer.words(), *_errands_without_document(car, documents)),
    )


def _signed(car: CarFolder) -> Iterator[Row]:
    locked = {r.text("subject"): r.text("locked_option") for r in car.sheet("subjects")}
    for row in car.sheet("options"):
        if locked.get(row.text("subject")) == row.text("option"):
            yield row


def _planned(car: CarFolder, signed: list[Row]) -> Iterator[Planned]:
    """Money of each signed option, less what it saves together with another."""
    chosen = {row.text("subject"): row.text("option") for row in signed}
    saves: dict[str, Decimal] = {}
    for row in car.sheet("option_links"):
        both = (
            chosen.get(row.text("subject")) == row.text("option")
            and chosen.get(row.text("other_subject")) == row.text("other_option")
            and row.text("option")
        )
        if both and row.text("kind") == "shares":
            piece = row.text("subject")
            saves[piece] = saves.get(piece, _ZERO) + Decimal(row.text("saves_cost") or "0")
    for row in signed:
        piece = row.text("subject")
        amount = Decimal(row.text("cost")) - saves.get(piece, _ZERO)
        yield Planned(piece=piece, amount=amount, what=row.text("option"))


def _used(car: CarFolder, valuer: Valuer) -> Iterator[Used]:
    trades = {row.text("task"): row.text("trade") for row in car.sheet("tasks")}
    for row in car.sheet("materials_used"):
        material, unit = row.text("material"), row.text("unit")
        price = valuer.rates.price(material=material, unit=unit)
        if price is None:
            valuer.materials[material] = None
            continue
        yield Used(
            piece=row.text("subject") or WHOLE_CAR,
            amount=price * Decimal(row.text("amount") or "0"),
            percent=valuer.rates.charged_percent(
                _day(row.text("taken_at")[:10], valuer.now.date())
            ),
            trade=trades.get(row.text("task"), ""),
            what=material,
        )


def _finished(car: CarFolder) -> set[str]:
    """Pieces as left, and those whose every task is done."""
    done = {r.text("task") for r in car.sheet("worked") if r.flag("done", default=False)}
    tasks: dict[str, list[str]] = {}
    for row in car.sheet("tasks"):
        tasks.setdefault(row.text("subject"), []).append(row.text("task"))
    as_left = {row.text("subject") for row in car.sheet("as_left")}
    return as_left | {piece for piece, names in tasks.items() if done.issuperset(names)}


def _paid(car: CarFolder) -> Decimal:
    return sum((paid_by(row.cells) for row in car.sheet("payments")), _ZERO)


def paid_by(cells: Mapping[str, str]) -> Decimal:
    """What a payment brought in; a refund has the opposite sign."""
    return Decimal(cells["amount"]) * (-1 if cells["kind"] == "refund" else 1)


def _errands_without_document(car: CarFolder, documents: tuple[Document, ...]) -> Iterator[str]:
    known = {plain(one.supplier) for one in documents}
    for row in car.sheet("errands"):
        if row.text("cost") and plain(row.text("to")) not in known:
            yield (
                f"{row.text('work')} at {row.text('to')} was to cost {row.text('cost')}; it counts "
                "once its order or invoice is entered"
            )


def _day(text: str, otherwise: date) -> date:
    return days_of(text)[0] or otherwise


def margin_of(account: CarAccount) -> tuple[Decimal, Decimal]:
    """What is charged less what it costs, over all whose cost is known; and what is not known.

    For the head of the workshop alone.
    """
    actual = [e for e in account.statement.entries if e.measure is Measure.ACTUAL]
    known = sum((e.amount - e.cost for e in actual if e.cost is not None), _ZERO)
    return known, sum((e.amount for e in actual if e.cost is None), _ZERO)
