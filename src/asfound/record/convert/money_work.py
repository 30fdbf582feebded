"""Hours of a car with their rates: from tasks, signed options, and what was worked."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from decimal import Decimal

from asfound.plan.money import Work
from asfound.record.convert.money_rates import Rates
from asfound.record.convert.trades import HOURS
from asfound.record.convert.worked import Stretch, stretch_of
from asfound.record.folder import CarFolder, Row

WHOLE_CAR = "car"
"""Piece of what belongs to none."""
CostRates = Mapping[str, Decimal]
"""What an hour costs the workshop, by trade or person; never in a car folder."""
_ZERO = Decimal(0)
_PLACES = Decimal("0.0001")
"""Hours are counted to a third of a second."""


@dataclass(slots=True, kw_only=True)
class Valuer:
    """Gives hours their rates, and remembers what has none."""

    rates: Rates
    costs: CostRates
    now: datetime
    trades: dict[str, Decimal] = field(default_factory=dict)
    materials: dict[str, None] = field(default_factory=dict)

    def work(
        self, *, piece: str, trade: str, hours: Decimal, stretches: Sequence[Stretch], what: str
    ) -> Work:
        """Work with the rates that held on the days when it was done."""
        rate = self.rates.hour(trade=trade, day=self.now.date())
        worked = tuple(self._stretch(trade, one) for one in stretches)
        done = any(one.done for one in stretches)
        left = max(hours - sum((one[0] for one in worked), _ZERO), _ZERO)
        if rate is None and left and not done:
            self._miss(trade, left)
        return Work(
            piece=piece,
            trade=trade,
            hours=hours,
            rate=rate or _ZERO,
            worked=worked,
            is_done=done,
            what=what,
        )

    def _stretch(
        self, trade: str, one: Stretch
    ) -> tuple[Decimal, Decimal, Decimal, Decimal | None]:
        day = (one.begun or self.now).date()
        hours = Decimal(one.hours(self.now)).quantize(_PLACES)
        rate = self.rates.hour(trade=trade, person=one.person, day=day)
        if rate is None and hours:
            self._miss(trade, hours)
        cost = self.costs.get(one.person, self.costs.get(trade))
        return hours, rate or _ZERO, self.rates.charged_percent(day), cost

    def _miss(self, trade: str, hours: Decimal) -> None:
        self.trades[trade] = self.trades.get(trade, _ZERO) + hours

    def words(self) -> Iterator[str]:
        """What could not be counted, in words."""
        for trade, hours in self.trades.items():
            told = f"{hours.quantize(Decimal('0.1')).normalize():f}"
            yield f"{told} h of {trade or 'no trade'} have no rate, and count for nothing"
        if self.materials:
            yield (
                f"no price for {', '.join(self.materials)}: used, and counted only where an "
                "invoice holds it"
            )


def works_of(car: CarFolder, signed: Sequence[Row], valuer: Valuer) -> Iterator[Work]:
    """Work of every task; of signed pieces without tasks; and of tasks taken off the list."""
    stretches: dict[str, list[tuple[Stretch, str]]] = {}
    for row in car.sheet("worked"):
        one = stretch_of(row.cells)
        stretches.setdefault(one.task, []).append((one, row.text("subject")))
    with_tasks = set()
    for row in car.sheet("tasks"):
        piece = row.text("subject") or WHOLE_CAR
        with_tasks.add(piece)
        yield valuer.work(
            piece=piece,
            trade=row.text("trade"),
            hours=Decimal(row.text("hours_likely")) * Decimal(row.text("people") or 1),
            stretches=[one for one, _ in stretches.pop(row.text("task"), [])],
            what=row.text("name"),
        )
    for row in signed:
        if row.text("subject") not in with_tasks:
            yield from _of_option(row, valuer)
    first = {r.text("person"): r.text("trades").split(";")[0].strip() for r in car.sheet("people")}
    for task, several in stretches.items():
        for one, subject in several:
            yield valuer.work(
                piece=subject or WHOLE_CAR,
                trade=first.get(one.person, ""),
                hours=_ZERO,
                stretches=[one],
                what=task,
            )


def _of_option(row: Row, valuer: Valuer) -> Iterator[Work]:
    for column, cell in row.cells.items():
        if column.startswith(HOURS) and cell and Decimal(cell):
            yield valuer.work(
                piece=row.text("subject"),
                trade=column.removeprefix(HOURS),
                hours=Decimal(cell),
                stretches=(),
                what=row.text("option"),
            )
