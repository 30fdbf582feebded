"""A file of readings is taken apart, matched and checked before anything is written."""

from __future__ import annotations

from typing import Any

import pytest
from tests.pages.small_car import small_car

from asfound.desk.survey.guessing import guess
from asfound.desk.survey.readings import next_spot
from asfound.desk.survey.taking_in import dialect_words, take_in
from asfound.desk.survey.told_tables import LOADED
from asfound.desk.survey.upload import Checked, Match, check, other_units, twins
from asfound.exchange.dialect import Written
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder

ODD = (
    "Bauteil;Messpunkt;Pos. X [mm];Pos. Y [mm];Schichtdicke (µm);Bemerkung\r\n"
    "bonnet;N1;120;80;498,5;\r\n"
    "bonnet;N1;121;80;503,0;ok\r\n"
)


FILM = LOADED["film"]


def taken(text: str, encoding: str = "utf-8") -> Written:
    sheets = take_in(text.encode(encoding), file="gauge.csv")
    assert isinstance(sheets, tuple)
    (written,) = sheets
    return written


def checked_film(written: Written, *, car: CarFolder | None = None, **said: Any) -> Checked:
    """What comes of the file when its columns are matched as guessed."""
    match = Match(places=guess(written.head, FILM.hints), **said)
    return check(written, match, car=car or small_car(), file="gauge.csv")


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
def test_odd_heads_are_matched_whatever_the_encoding(encoding: str) -> None:
    matched = guess(taken(ODD, encoding).head, FILM.hints)
    assert matched == {"panel": 0, "spot": 1, "x_mm": 2, "y_mm": 3, "thickness_um": 4}


@pytest.mark.parametrize("mark", [",", ";", "\t"])
def test_declared_names_are_matched_under_every_separator(mark: str) -> None:
    text = mark.join(("thickness_um", "y_mm", "x_mm", "spot", "panel")) + "\n"
    matched = guess(taken(text).head, FILM.hints)
    assert matched == {"thickness_um": 0, "y_mm": 1, "x_mm": 2, "spot": 3, "panel": 4}


def test_the_dialect_is_told_in_words() -> None:
    assert dialect_words(taken(ODD)) == "semicolon between the columns, decimal comma"
    assert dialect_words(taken("x,y\n1.5,2\n")) == "comma between the columns, decimal point"


def test_a_decimal_comma_becomes_a_point_and_unmatched_columns_stay_out() -> None:
    written = taken(ODD)
    checked = checked_film(written)
    assert checked.faults == ()
    assert checked.sheet is not None
    assert set(checked.sheet.columns) == {"panel", "spot", "x_mm", "y_mm", "thickness_um"}
    assert [row.text("thickness_um") for row in checked.sheet] == ["498.5", "503.0"]


def test_every_fault_is_told_in_the_words_of_the_file() -> None:
    written = taken(ODD.replace("498,5", "-4").replace("503,0", "thick"))
    checked = checked_film(written)
    assert checked.sheet is None
    assert [(f.row, f.column, f.value) for f in checked.faults] == [
        (2, "Schichtdicke (µm)", "-4"),
        (3, "Schichtdicke (µm)", "thick"),
    ]
    assert "cannot be negative" in checked.faults[0].rule


def test_faults_of_cells_and_of_names_are_told_at_once() -> None:
    written = taken(ODD.replace("498,5", "-4").replace("bonnet;N1;121", "bonet;N1;121"))
    checked = checked_film(written)
    assert [(f.row, f.value) for f in checked.faults] == [(2, "-4"), (3, "bonet")]


def test_an_unknown_panel_is_refused_at_its_row() -> None:
    written = taken(ODD.replace("bonnet;N1;121", "\r\nbonet;N1;121"))
    checked = checked_film(written)
    assert [(f.row, f.value) for f in checked.faults] == [(4, "bonet")]


def test_a_spot_that_the_record_has_elsewhere_is_refused() -> None:
    written = taken("panel,spot,x_mm,y_mm,thickness_um\nbonnet,B1,900,700,500\n")
    checked = checked_film(written)
    assert [(f.row, f.value) for f in checked.faults] == [(2, "bonnet, B1")]
    assert "150, 200 mm" in checked.faults[0].rule


def test_a_file_without_a_panel_can_be_of_one_panel() -> None:
    written = taken("spot,x,y,value\nN1,10,20,500\n")
    without = checked_film(written)
    assert [f.rule for f in without.faults] == ["no column is chosen for: panel"]
    assert "what holds for every row" in without.faults[0].remedy
    checked = checked_film(written, fixed={"panel": "scuttle"})
    assert checked.sheet is not None
    assert [row.text("panel") for row in checked.sheet] == ["scuttle"]


def test_rows_that_stand_in_the_record_already_are_counted() -> None:
    written = taken(
        "panel,spot,x_mm,y_mm,thickness_um\nbonnet,N1,10,20,500\nbonnet,B1,150,200,490\n"
    )
    checked = checked_film(written)
    assert checked.sheet is not None
    assert twins(checked.sheet, small_car()) == 1


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"PK\x03\x04\x00\x00", "cannot be opened as a spreadsheet"),
        (b"a\x00b", "NUL"),
        (b"a\x81b", "cp1252"),
    ],
)
def test_what_is_no_table_is_refused(data: bytes, words: str) -> None:
    fault = take_in(data, file="gauge.csv")
    assert isinstance(fault, Fault)
    assert words in fault.rule


@pytest.mark.parametrize(
    ("spots", "following"),
    [([], "1"), (["S1", "S9"], "S10"), (["BN01", "BN09", "edge"], "BN10"), (["edge"], "1")],
)
def test_the_next_spot_counts_on(spots: list[str], following: str) -> None:
    assert next_spot(spots) == following


def test_a_column_is_named_as_the_file_and_the_page_do() -> None:
    checked = checked_film(taken(ODD.replace("498,5", "-4")))
    (fault,) = checked.faults
    assert (fault.column, fault.rule) == ("Schichtdicke (µm)", "film cannot be negative")


def test_what_is_wrong_in_every_row_is_told_once() -> None:
    checked = checked_film(taken(ODD), fixed={"panel": "bonet"})
    (fault,) = checked.faults
    assert (fault.row, fault.value) == (0, "bonet")
    assert fault.column == "panel, the same in every row"
    assert fault.rule == "the car has no panel of this name"


@pytest.mark.parametrize(
    ("head", "cells", "um"),
    [
        ("Thickness (mils)", "4.9", 124.46),
        ("Thickness (mils)", "4,9 mil", 124.46),
        ("Film [mm]", "0.4985", 498.5),
        ("Film µm", "498.5", 498.5),
        ("Thickness", "498.5", 498.5),
    ],
)
def test_numbers_come_in_the_unit_that_their_head_names(head: str, cells: str, um: float) -> None:
    # An inch is 25.4 mm exactly (yard and pound agreement of 1959, from memory); a mil 0.001 inch.
    written = taken(f"panel;spot;x_in;y (mm);{head}\nbonnet;N1;10;80;{cells}\n")
    sheet = checked_film(written).sheet
    assert sheet is not None
    (row,) = sheet
    assert row.number("thickness_um") == pytest.approx(um)
    assert (row.number("x_mm"), row.number("y_mm")) == pytest.approx((254, 80))


def test_a_number_in_doubt_is_asked_back_in_another_unit_too() -> None:
    written = taken("panel;spot;x_mm;y_mm;film (mils)\nbonnet;N1;120;80;1.234\n")
    (fault,) = checked_film(written).faults
    assert "decimal mark or with a mark for thousands" in fault.rule
    sheet = checked_film(written, decimal=".").sheet
    assert sheet is not None
    assert next(iter(sheet)).number("thickness_um") == pytest.approx(31.3436)


def test_another_unit_is_said_before_anything_is_written() -> None:
    written = taken("panel;spot;x_mm;y_mm;film (mils)\nbonnet;N1;120;80;4.9\n")
    match = Match(places=guess(written.head, FILM.hints))
    assert other_units(written, match, FILM) == ["“film (mils)” is taken as mil: 1 mil = 25.4 µm"]
