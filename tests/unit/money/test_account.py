"""The account of a small car, worked out by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest
from tests.unit.money.cars import CAR, NOW, PURCHASES, sheet, with_sheet

from asfound.base import InputError
from asfound.plan.money import Work
from asfound.record.convert.money import account_of, margin_of
from asfound.record.results.money import lines_sheet, money_json


def test_every_sum_as_worked_out_by_hand() -> None:
    # Seats: two people for 6 h each at 60 now, and 200 for material; wing: 20 h at 40, and 150.
    # Worked: 4 h at 50 before the rate rose, 3 h at Lowri's own 30. Left of the seats: 5 h at 60.
    # Ordered 120, of which 80 are invoiced; of the 200 planned 80 remain.
    total = account_of(CAR, now=NOW).statement.total
    assert total.estimate == 12 * 60 + 200 + 20 * 40 + 150
    assert total.actual == 4 * 50 + 3 * 30 + 80
    assert total.committed == 120 - 80
    assert total.remaining == 5 * 60 + (200 - 120) + 20 * 40 + 150
    assert total.forecast == total.actual + total.committed + total.remaining


def test_by_supplier_trade_and_piece() -> None:
    statement = account_of(CAR, now=NOW).statement
    trim = statement.sums("supplier")["Trim House"]
    assert (trim.committed, trim.actual) == (40, 80)
    assert "Paint Barn" not in statement.sums("supplier")
    assert statement.sums("trade")["painter"].estimate == 800
    assert statement.sums("piece")["wing"].forecast == 950
    assert "grille" not in statement.sums("piece")


def test_tax_is_that_of_the_day_and_payments_are_taken_off() -> None:
    # 4 h at 50 on 1 April at 20 %; 3 h at 30 and 80 of material from 2 April on at 25 %.
    account = account_of(CAR, now=NOW)
    rates = [(one.percent, one.net, one.tax) for one in account.charged.rates]
    assert rates == [(25, 170, Decimal("42.50")), (20, 200, 40)]
    assert account.paid == 250
    assert account.due == Decimal("452.50") - 250


def test_the_last_invoice_closes_its_order() -> None:
    last = sheet(
        PURCHASES,
        "order,Trim House,O-1,2024-03-01,seats,120,20,trimmer,,,",
        "invoice,trim  house,I-9,2024-04-03,seats,80,25,trimmer,,o-1,yes",
    )
    account = account_of(with_sheet("purchases", last), now=NOW)
    assert account.statement.total.committed == 0
    assert [one.words for one in account.documents] == ["invoiced", "to pay"]


def test_a_credit_note_takes_off_what_was_invoiced() -> None:
    rows = sheet(
        PURCHASES,
        "invoice,Trim House,I-9,2024-04-03,seats,80,25,trimmer,,,",
        "credit note,Trim House,C-1,2024-04-04,seats,30,25,trimmer,,I-9,",
    )
    account = account_of(with_sheet("purchases", rows), now=NOW)
    assert account.statement.sums("supplier")["Trim House"].actual == 50


def test_what_has_no_rate_counts_for_nothing_and_is_told() -> None:
    rates = sheet("trade,rate", "painter,40")
    account = account_of(with_sheet("charge_rates", rates), now=NOW)
    assert account.statement.sums("trade")["trimmer"].estimate == 200 - 200
    assert "12 h of trimmer have no rate, and count for nothing" in account.not_valued


def test_margin_is_charged_less_cost_where_cost_is_known() -> None:
    rows = sheet(f"{PURCHASES},charged_net", "invoice,A,1,2024-04-03,seats,80,25,trimmer,,,,100")
    account = account_of(
        with_sheet("purchases", rows), now=NOW, costs={"trimmer": Decimal(20), "Lowri": Decimal(25)}
    )
    known, unknown = margin_of(account)
    assert known == 4 * (50 - 20) + 3 * (30 - 25) + (100 - 80)
    assert unknown == 0
    assert margin_of(account_of(CAR, now=NOW)) == (0, 290)


def test_nothing_remains_of_a_piece_that_is_left() -> None:
    left = sheet("subject,done_on,kept,by", "wing,2024-04-30,0.8,Wenna")
    account = account_of(with_sheet("as_left", left), now=NOW)
    assert account.statement.sums("piece")["wing"].remaining == 0


def test_lines_and_json_come_to_the_same_sums() -> None:
    account = account_of(CAR, now=NOW)
    told = money_json(account)
    rows = list(lines_sheet(account))
    for measure in ("estimate", "committed", "actual", "remaining"):
        total = sum(Decimal(r.text("amount")) for r in rows if r.text("measure") == measure)
        assert told["total"][measure] == f"{total:.2f}"
    assert told["charged"]["due"] == "202.50"


def test_negative_hours_are_refused() -> None:
    with pytest.raises(InputError, match="0 or more"):
        Work(piece="seats", trade="trimmer", hours=Decimal(-1), rate=Decimal(50))
