"""Days as spreadsheets count them, after ISO/IEC 29500-1, section 18.17.4 (dates and times)."""

from __future__ import annotations

import io

import openpyxl
import pytest
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from asfound.exchange.spreadsheet import read_spreadsheet

SOURCE = "ISO/IEC 29500-1, 18.17.4.1 and 18.17.4.3: serial values under both date bases"


def read_back(serial: float, *, base_1904: bool, form: str) -> str:
    """Text of a cell that holds that serial value, as the file keeps it."""
    made = openpyxl.Workbook()
    if base_1904:
        made.epoch = CALENDAR_MAC_1904
    made.active.append(["day", "n"])
    made.active.append([serial, 1])
    made.active["A2"].number_format = form
    file = io.BytesIO()
    made.save(file)
    sheets = read_spreadsheet(file.getvalue(), file="days.xlsx")
    assert isinstance(sheets, tuple)
    return sheets[0].rows[0][1][0]


@pytest.mark.source(SOURCE)
@pytest.mark.from_memory
@pytest.mark.parametrize(
    ("serial", "base_1904", "form", "text"),
    [
        (1.5, False, "yyyy-mm-dd hh:mm", "1900-01-01T12:00"),
        (3687.4207639, False, "yyyy-mm-dd hh:mm:ss", "1910-02-03T10:05:54"),
        (2958465.9999884, False, "yyyy-mm-dd hh:mm:ss", "9999-12-31T23:59:59"),
        (61, False, "yyyy-mm-dd", "1900-03-01"),
        (1, True, "yyyy-mm-dd", "1904-01-02"),
        (3687.4207639, True, "yyyy-mm-dd hh:mm:ss", "1914-02-04T10:05:54"),
    ],
)
def test_serial_values_are_the_days_of_the_standard(
    serial: float, base_1904: bool, form: str, text: str
) -> None:
    assert read_back(serial, base_1904=base_1904, form=form) == text
