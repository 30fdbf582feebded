"""``asfound money``: sums as words and as JSON, exit codes of the contract."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.unit.cli.asked import code
from tests.unit.money.cars import CAR, PURCHASES, sheet, with_sheet

from asfound.exchange import write_folder
from asfound.record.folder import CarFolder


def test_words_and_json_tell_the_same_sums(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write_folder(CAR, tmp_path / "car")
    assert code("money", str(tmp_path / "car"), "--json") == 0
    told = json.loads(capsys.readouterr().out)
    assert told["currency"] == "EUR"
    assert told["total"]["estimate"] == "1870.00"
    assert told["by_supplier"]["Trim House"]["committed"] == "40.00"
    assert told["charged"]["due"] == "202.50"
    assert code("money", str(tmp_path / "car"), "--by", "supplier") == 0
    words = capsys.readouterr().out
    assert "Trim House" in words
    assert "due 202.50 EUR" in words


def test_a_currency_nobody_has_is_the_inputs_fault(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = "marque,model,body_style,built,currency"
    write_folder(with_sheet("car", sheet(head, "Orrin,Six,saloon,1958,pounds")), tmp_path / "car")
    assert code("money", str(tmp_path / "car")) == 3
    assert "car.csv, row 2: currency is 'pounds'" in capsys.readouterr().err


def test_an_invoice_twice_is_the_inputs_fault(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    row = "invoice,A,1,2024-03-01,seats,100,20,,,,"
    write_folder(with_sheet("purchases", sheet(PURCHASES, row, row)), tmp_path / "car")
    assert code("money", str(tmp_path / "car")) == 3
    assert "purchases.csv, row 3: number is '1'" in capsys.readouterr().err


def test_without_rates_and_documents_there_is_no_answer(tmp_path: Path) -> None:
    bare = {name: CAR.sheets[name] for name in ("car", "options", "subjects")}
    write_folder(CarFolder(sheets=bare), tmp_path / "car")
    assert code("money", str(tmp_path / "car")) == 4
