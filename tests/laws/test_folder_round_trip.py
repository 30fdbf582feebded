"""Law: a table that is written reads back equal, in every dialect, and so does the folder."""

from __future__ import annotations

import csv
import io
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from tests.laws.strategies_folder import folders, sheets

from asfound.exchange import csv_bytes, read_folder, read_sheet, write_folder
from asfound.exchange.rules import check_across
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder, Sheet
from asfound.record.tables import TABLES, Form

_LAW = settings(
    max_examples=25, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


def with_something(sheet: Sheet) -> Sheet:
    """The sheet without its blank lines, which no file can tell from none."""
    return Sheet(columns=sheet.columns, rows=tuple(row for row in sheet.rows if any(row)))


def read_or_faults(place: Path) -> tuple[CarFolder | None, list[str]]:
    try:
        return read_folder(place), []
    except InputFaultsError as error:
        return None, [str(fault) for fault in error.faults]


@pytest.mark.parametrize("name", TABLES)
@_LAW
@given(data=st.data())
def test_a_sheet_as_written(name: str, data: st.DataObject) -> None:
    sheet = with_something(data.draw(sheets(TABLES[name])))
    back, faults = read_sheet(csv_bytes(sheet), TABLES[name], file=f"{name}.csv")
    assert faults == []
    assert back == sheet


@pytest.mark.parametrize("separator", [";", "\t"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
@pytest.mark.parametrize("name", ["film", "options", "car", "panels"])
@_LAW
@given(data=st.data())
def test_a_sheet_in_the_dialect_of_another_country(
    name: str, encoding: str, separator: str, data: st.DataObject
) -> None:
    table = TABLES[name]
    sheet = with_something(data.draw(sheets(table)))
    numbers = [table.column(c).form in (Form.NUMBER, Form.INTEGER) for c in sheet.columns]
    text = io.StringIO(newline="")
    writer = csv.writer(text, delimiter=separator)
    writer.writerow(sheet.columns)
    for row in sheet.rows:
        writer.writerow(
            cell.replace(".", ",") if is_number else cell
            for cell, is_number in zip(row, numbers, strict=True)
        )
    back, faults = read_sheet(text.getvalue().encode(encoding), table, file=table.file)
    assert faults == []
    assert back == sheet


@_LAW
@given(folder=folders())
def test_a_folder(folder: CarFolder) -> None:
    plain = CarFolder(
        sheets={name: with_something(sheet) for name, sheet in folder.sheets.items()},
        brief=folder.brief,
        lift=folder.lift,
        package=folder.package,
    )
    with tempfile.TemporaryDirectory() as scratch:
        place = Path(scratch) / "car"
        write_folder(plain, place)
        back, told = read_or_faults(place)
    # Drawn tables do not always hold together across rows; that alone may be refused.
    across = {str(fault) for fault in check_across(plain.sheets)}
    assert all(fault in across or "holds no table" in fault for fault in told), told
    assume(not told)
    assert back == plain
