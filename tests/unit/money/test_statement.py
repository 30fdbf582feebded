"""The owner's statement: the same bytes for the same account, in the currency's own digits."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date

import pikepdf
from tests.unit.money.cars import CAR, NOW, sheet, with_sheet

from asfound.dossier.statement import StatementHead, make_statement
from asfound.record.convert.money import account_of
from asfound.record.folder import CarFolder
from asfound.record.results.money import lines_sheet

HEAD = StatementHead(car="Orrin Six", invented=True, made_on=date(2024, 5, 2), name="Invented")


def made(car: CarFolder, head: StatementHead = HEAD) -> bytes:
    return make_statement(account_of(car, now=NOW), head=head, payments=car.sheet("payments"))


def test_the_same_account_gives_the_same_bytes() -> None:
    assert made(CAR) == made(CAR)
    assert made(CAR) != made(CAR, replace(HEAD, with_tax=False))


def test_its_lines_and_payments_are_attached_and_no_supplier_is_named() -> None:
    with pikepdf.open(io.BytesIO(made(CAR))) as pdf:
        assert set(pdf.attachments) == {"account.csv", "payments.csv"}
        lines = pdf.attachments["account.csv"].get_file().read_bytes().decode()
    assert "actual,seats,trimmer,,25,170.00,EUR" in lines
    assert "Trim House" not in lines


def test_a_currency_without_minor_unit_has_no_decimals() -> None:
    head = "marque,model,body_style,built,currency"
    car = with_sheet("car", sheet(head, "Orrin,Six,saloon,1958,JPY"))
    amounts = {row.text("amount") for row in lines_sheet(account_of(car, now=NOW))}
    assert amounts
    assert not any("." in amount for amount in amounts)
    assert made(car)
