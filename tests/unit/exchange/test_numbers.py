"""A mark that could mean thousands or decimals is asked back, unless the file shows which."""

from __future__ import annotations

from dataclasses import replace

import pytest

from asfound.exchange.dialect import Written, take_apart
from asfound.exchange.sheet import check_written
from asfound.record.faults import Fault
from asfound.record.tables import TABLES

FILM = TABLES["film"]


def written(*films: str, mark: str = ";") -> Written:
    head = mark.join(("panel", "spot", "x_mm", "y_mm", "thickness_um"))
    lines = [head, *(mark.join(("door", "1", "10", "20", film)) for film in films)]
    found = take_apart("\n".join(lines), file="g.csv", known=frozenset(head.split(mark)))
    assert isinstance(found, Written)
    return found


def faults_of(found: Written) -> list[Fault]:
    return check_written(found, FILM, file="g.csv")[1]


@pytest.mark.parametrize("mark", [";", "\t", ","])
def test_a_point_before_three_digits_is_asked_back(mark: str) -> None:
    (fault,) = faults_of(written("1.234", "455", mark=mark))
    assert (fault.row, fault.column, fault.value) == (2, "thickness_um", "1.234")
    assert "mark for thousands" in fault.rule
    assert fault.remedy == "Write 1234 for thousands, or 1.2340 for decimals."


def test_a_comma_before_three_digits_is_asked_back() -> None:
    (fault,) = faults_of(written("12,345", "455"))
    assert "Write 12345 for thousands, or 12.3450" in fault.remedy


@pytest.mark.parametrize("films", [("1.2340",), ("0.234",), ("60.123",), ("1.23",)])
def test_what_cannot_be_thousands_is_plain(films: tuple[str, ...]) -> None:
    """60,123 µm is beyond every film, thousands do not begin with 0 and have three digits."""
    assert faults_of(written(*films)) == []


def test_another_number_of_the_file_settles_it() -> None:
    assert faults_of(written("1.234", "455.5")) == []
    assert faults_of(written("1,234", "455,5")) == []
    assert [f.value for f in faults_of(written("1.234", "455,5"))] == ["1.234"]
    assert [f.value for f in faults_of(written("1.234", "1,5", "1.5"))] == ["1.234"]


@pytest.mark.parametrize(
    ("decimal", "text", "taken"),
    [
        (",", "1.234", "1234"),
        (".", "1.234", "1.234"),
        (",", "1,234", "1.234"),
        (".", "1,234", "1234"),
        (",", "1.234,5", "1234.5"),
        (".", "1,234.5", "1234.5"),
        (",", "1 234,5", "1234.5"),
    ],
)
def test_what_a_person_says_of_the_marks_holds(decimal: str, text: str, taken: str) -> None:
    sheet, faults = check_written(replace(written(text), decimal=decimal), FILM, file="g.csv")
    assert faults == []
    assert sheet is not None
    assert [row.text("thickness_um") for row in sheet] == [taken]


def test_a_number_that_a_spreadsheet_keeps_as_a_number_is_plain() -> None:
    found = replace(written("1.234"), separator="", typed=frozenset({(2, 4)}))
    assert faults_of(found) == []
    assert len(faults_of(replace(found, typed=frozenset()))) == 1


def test_in_a_car_folder_a_point_between_commas_marks_decimals() -> None:
    found = written("1.234", mark=",")
    assert check_written(found, FILM, file="film.csv", by_contract=True)[1] == []


def test_the_row_of_a_quote_that_stays_open_is_told() -> None:
    lines = ["panel,note", 'door,"two\nlines"', 'wing,"never closed', "bonnet,1", "boot lid,2"]
    fault = take_apart("\n".join(lines), file="g.csv", known=frozenset({"panel"}))
    assert isinstance(fault, Fault)
    assert (fault.row, fault.value) == (3, 'wing,"never closed')
    assert "not closed" in fault.rule


def test_a_quote_that_a_later_one_seems_to_close_is_told_at_its_row() -> None:
    lines = ["panel,note", "door,1", 'wing,"never closed', "bonnet,2", 'boot lid,"a note"']
    fault = take_apart("\n".join(lines), file="g.csv", known=frozenset({"panel"}))
    assert isinstance(fault, Fault)
    assert (fault.row, fault.value) == (3, 'wing,"never closed')
