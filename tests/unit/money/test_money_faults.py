"""What is wrong with money is told with file, row, value, rule and remedy."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.unit.money.cars import CAR, PURCHASES, sheet, with_sheet

from asfound.exchange import read_folder, write_folder
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.folder import CarFolder

ORDER = "order,Trim House,O-1,2024-03-01,seats,120,20,trimmer,,,"
CASES = {
    "twice": (
        "purchases",
        (PURCHASES, ORDER, "quote,Other,1,2024-03-01,seats,1,20,,,,", ORDER),
        (4, "number", "is in row 2 already"),
    ),
    "twice in a row": ("purchases", (PURCHASES, ORDER, ORDER), (3, "number", "already")),
    "rate": (
        "purchases",
        (PURCHASES, "invoice,A,1,2024-03-01,seats,100,25,,,,"),
        (2, "tax_percent", "no such rate that holds on 2024-03-01"),
    ),
    "sum": (
        "purchases",
        (PURCHASES, "invoice,A,1,2024-03-01,seats,100,20,,121.00,,"),
        (2, "total", "come to 120.00"),
    ),
    "follows": (
        "purchases",
        (PURCHASES, "invoice,A,1,2024-03-01,seats,100,20,,,O-7,"),
        (2, "follows", "no other document of A"),
    ),
    "heads": (
        "purchases",
        (
            PURCHASES,
            "invoice,A,1,2024-03-01,seats,100,20,,,,",
            "invoice,A,1,2024-03-02,wing,100,20,,,,",
        ),
        (3, "dated", "row 2 of the same document says 2024-03-01"),
    ),
    "other currency": (
        "payments",
        ("paid_on,kind,amount,currency", "2024-03-01,advance,300,GBP"),
        (2, "currency", "counted in EUR"),
    ),
    "unknown currency": (
        "car",
        ("marque,model,body_style,built,currency", "Orrin,Six,saloon,1958,euros"),
        (2, "currency", "ISO 4217"),
    ),
    "rates twice": (
        "charge_rates",
        ("trade,rate", "painter,40", "painter,50"),
        (3, "trade", "row 2 has a rate"),
    ),
    "negative rate": ("charge_rates", ("trade,rate", "painter,-4"), (2, "rate", "negative")),
    "negative hours": (
        "worked",
        (
            "task,subject,person,from_at,to_at",
            "S1,seats,Issy,2024-04-01T12:00:00Z,2024-04-01T08:00:00Z",
        ),
        (2, "to_at", "cannot be negative"),
    ),
}


def faults_of(car: CarFolder, place: Path) -> tuple[Fault, ...]:
    write_folder(car, place)
    with pytest.raises(InputFaultsError) as refused:
        read_folder(place)
    return refused.value.faults


@pytest.mark.parametrize("case", CASES)
def test_each_fault_is_told_at_its_row(case: str, tmp_path: Path) -> None:
    table, rows, (row, column, rule) = CASES[case]
    told = faults_of(with_sheet(table, sheet(*rows)), tmp_path / "car")
    found = [f for f in told if (f.file, f.row, f.column) == (f"{table}.csv", row, column)]
    assert found
    assert rule in found[0].rule
    assert found[0].remedy
    assert found[0].value


def test_a_lawful_car_is_read(tmp_path: Path) -> None:
    write_folder(CAR, tmp_path / "car")
    assert len(read_folder(tmp_path / "car").sheet("purchases")) == 3


def test_several_lines_of_one_document_stand_together(tmp_path: Path) -> None:
    rows = sheet(
        PURCHASES,
        "invoice,A,1,2024-03-01,seats,100,20,,180.01,,",
        "invoice,A,1,2024-03-01,wing,50,20,,,,",
    )
    write_folder(with_sheet("purchases", rows), tmp_path / "car")
    assert len(read_folder(tmp_path / "car").sheet("purchases")) == 2
