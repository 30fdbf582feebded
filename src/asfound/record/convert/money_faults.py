"""What is wrong with money: currencies, rates of tax, documents told twice, sums that differ."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from decimal import Decimal, InvalidOperation

from asfound.base import InputError
from asfound.plan.money import TaxedAmount, check_currency, minor_digits, tax_totals
from asfound.record.convert.cell_fault import cell_fault
from asfound.record.convert.errands import days_of
from asfound.record.convert.money_documents import Name, name_of, plain
from asfound.record.convert.money_rates import Rates
from asfound.record.convert.worked import stretch_of
from asfound.record.faults import Fault
from asfound.record.folder import Row, Sheet
from asfound.record.tables.money import TABLES

_NONE = Sheet(columns=())
_PURCHASES = "purchases.csv"
_AMOUNTS = ("net", "charged_net", "total", "amount")
_HEAD = ("dated", "follows", "total", "currency")
"""Cells that every row of one document repeats, or leaves empty."""


def money_faults(sheets: Mapping[str, Sheet]) -> list[Fault]:
    """Faults of the tables of money as they stand beside the car."""
    faults = [*_negative_stretches(sheets.get("worked", _NONE))]
    if not any(len(sheets.get(table.name, _NONE)) for table in TABLES):
        return faults
    car = next(iter(sheets.get("car", _NONE)), None)
    currency = car.text("currency") if car is not None else ""
    if car is not None:
        faults += _unknown_currency(car)
    for table in ("purchases", "payments"):
        faults += _other_currency(sheets.get(table, _NONE), currency, f"{table}.csv")
        faults += _finer_than_money(sheets.get(table, _NONE), currency, f"{table}.csv")
    faults += _purchase_faults(sheets, currency)
    faults += _rates_twice(sheets.get("charge_rates", _NONE))
    return faults


def _unknown_currency(car: Row) -> Iterator[Fault]:
    try:
        check_currency(car.text("currency"))
    except InputError as error:
        yield cell_fault("car.csv", car, "currency", f"it must be {error.allowed}", error.remedy)


def _other_currency(rows: Sheet, currency: str, file: str) -> Iterator[Fault]:
    for row in rows:
        if currency and row.text("currency") not in ("", currency):
            yield cell_fault(
                file,
                row,
                "currency",
                f"the car is counted in {currency}, and one account has one currency",
                f"Write the amount in {currency} at the rate you were charged; note the other.",
            )


def _finer_than_money(rows: Sheet, currency: str, file: str) -> Iterator[Fault]:
    """Amounts finer than the currency, as rules BR-DEC of EN 16931-1 refuse them (from memory)."""
    try:
        digits = minor_digits(currency) if currency else None
    except InputError:
        return  # told at the car
    for row in rows if digits is not None else ():
        for column in _AMOUNTS:
            if digits is not None and _decimals_n(row.text(column)) > digits:
                whole = f"at most {digits} decimals" if digits else "no decimals"
                yield cell_fault(
                    file,
                    row,
                    column,
                    f"an amount in {currency} has {whole}",
                    "Write the amount that was asked or paid; what is finer is rounded on paper.",
                )


def _decimals_n(text: str) -> int:
    """Decimals of a number that are not idle zeros."""
    try:
        exponent = Decimal(text or "0").normalize().as_tuple().exponent
    except InvalidOperation:
        return 0  # told at the cell
    return max(0, -exponent) if isinstance(exponent, int) else 0


def _purchase_faults(sheets: Mapping[str, Sheet], currency: str) -> Iterator[Fault]:
    rows = [row for row in sheets.get("purchases", _NONE) if _is_read(row)]
    yield from _unknown_rates(rows, Rates(tax=tuple(sheets.get("tax_rates", _NONE))))
    documents, again = _documents(rows)
    yield from again
    numbers = {(supplier, number) for supplier, _, number in documents}
    for name, lines in documents.items():
        yield from _heads_that_differ(lines)
        yield from _sum_that_differs(lines, currency)
        follows = plain(lines[0].text("follows"))
        if follows and ((name[0], follows) not in numbers or name[2] == follows):
            yield cell_fault(
                _PURCHASES,
                lines[0],
                "follows",
                f"no other document of {lines[0].text('supplier')} has this number",
                "Write the number of the order or quote, or enter that document first.",
            )


def _documents(rows: list[Row]) -> tuple[dict[Name, list[Row]], list[Fault]]:
    """Rows by document; a document that comes again after others was entered twice."""
    documents: dict[Name, list[Row]] = {}
    again: list[Fault] = []
    last: Name | None = None
    for row in rows:
        name = name_of(row)
        if name in documents and (name != last or _same(row, documents[name])):
            again.append(
                cell_fault(
                    _PURCHASES,
                    row,
                    "number",
                    f"the {row.text('kind')} of {row.text('supplier')} is in row "
                    f"{documents[name][0].number_in_file} already",
                    "Delete one of the two; lines of one document stand together and differ.",
                )
            )
        else:
            documents.setdefault(name, []).append(row)
        last = name
    return documents, again


def _same(row: Row, others: list[Row]) -> bool:
    told = ("subject", "net", "what", "trade", "task", "tax_percent")
    return any(all(row.text(c) == one.text(c) for c in told) for one in others)


def _unknown_rates(rows: list[Row], rates: Rates) -> Iterator[Fault]:
    for row in rows if rates.tax else ():
        day = days_of(row.text("dated"))[0] or date.min
        if not rates.knows_percent(Decimal(row.text("tax_percent")), day):
            yield cell_fault(
                _PURCHASES,
                row,
                "tax_percent",
                f"tax_rates.csv has no such rate that holds on {row.text('dated')}",
                "Correct the rate, or add it to the rates of tax with the day it holds from.",
            )


def _heads_that_differ(lines: list[Row]) -> Iterator[Fault]:
    for row in lines[1:]:
        for column in _HEAD:
            if row.text(column) not in ("", lines[0].text(column)):
                yield cell_fault(
                    _PURCHASES,
                    row,
                    column,
                    f"row {lines[0].number_in_file} of the same document says "
                    f"{lines[0].text(column) or 'nothing'}",
                    "Lines of one document have one date, one total and one currency.",
                )


def _sum_that_differs(lines: list[Row], currency: str) -> Iterator[Fault]:
    total = lines[0].text("total")
    if not total:
        return
    try:
        digits = minor_digits(currency) if currency else 2
    except InputError:
        return  # told at the car
    amounts = (
        TaxedAmount(net=Decimal(r.text("net")), percent=Decimal(r.text("tax_percent")))
        for r in lines
    )
    gross = tax_totals(amounts, digits=digits).gross
    allowed = len(lines) * Decimal(1).scaleb(-digits)
    if abs(gross - Decimal(total)) > allowed:
        yield cell_fault(
            _PURCHASES,
            lines[0],
            "total",
            f"its {len(lines)} line{'s' * (len(lines) > 1)} with tax come to {gross}; a total may "
            f"differ by {allowed}, for suppliers who round line by line",
            "Correct the line or the total, or add the line that is missing.",
        )


def _rates_twice(rows: Sheet) -> Iterator[Fault]:
    seen: dict[tuple[str, ...], Row] = {}
    for row in rows:
        key = tuple(row.text(c) for c in ("trade", "person", "from_on"))
        first = seen.setdefault(key, row)
        if first is not row:
            yield cell_fault(
                "charge_rates.csv",
                row,
                "trade",
                f"row {first.number_in_file} has a rate for the same trade, person and day",
                "Keep one of the two, or write from which day the other holds.",
            )


def _negative_stretches(rows: Sheet) -> Iterator[Fault]:
    for row in rows:
        one = stretch_of(row.cells)
        if one.begun and one.ended and one.ended < one.begun:
            yield cell_fault(
                "worked.csv",
                row,
                "to_at",
                f"work that began at {row.text('from_at')} cannot end before; hours cannot be "
                "negative",
                "Correct one of the two times.",
            )


def _is_read(row: Row) -> bool:
    """Whether its numbers can be read; where not, the cell's own fault is told already."""
    try:
        for column in ("net", "tax_percent"):
            Decimal(row.text(column))
        Decimal(row.text("total") or "0")
    except InvalidOperation:
        return False
    return True
