"""A spreadsheet reads as the CSV of the same table does, and is refused with file, row, remedy."""

from __future__ import annotations

import io
import zipfile
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest

from asfound.exchange import package_guard, read_folder
from asfound.exchange import spreadsheet as spreadsheet_module
from asfound.exchange.dialect import Written
from asfound.exchange.spreadsheet import read_spreadsheet
from asfound.record.faults import Fault, InputFaultsError

HEAD = ["panel", "spot", "x_mm", "y_mm", "thickness_um"]


def book(*sheets: list[list[object]], merge: str = "") -> bytes:
    """Spreadsheet of those sheets, written by the reference library."""
    made = openpyxl.Workbook()
    for i, rows in enumerate(sheets):
        sheet = made.active if i == 0 else made.create_sheet()
        for row in rows:
            sheet.append(row)
    if merge:
        made.active.merge_cells(merge)
    return saved(made)


def saved(made: openpyxl.Workbook) -> bytes:
    file = io.BytesIO()
    made.save(file)
    return file.getvalue()


def only(data: bytes) -> Written:
    sheets = read_spreadsheet(data, file="gauge.xlsx")
    assert isinstance(sheets, tuple), sheets
    assert len(sheets) == 1
    return sheets[0]


def refusal(data: bytes) -> Fault:
    fault = read_spreadsheet(data, file="gauge.xlsx")
    assert isinstance(fault, Fault)
    assert fault.file == "gauge.xlsx"
    assert fault.remedy
    return fault


def with_part(data: bytes, name: str, old: str, new: str, times: int = -1) -> bytes:
    """Package in which one part says something else."""
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(data)) as source, zipfile.ZipFile(out, "w") as sink:
        for info in source.infolist():
            content = source.read(info).decode()
            if info.filename == name:
                assert old in content
                content = content.replace(old, new, times)
            sink.writestr(info.filename, content)
    return out.getvalue()


SHEET_1 = "xl/worksheets/sheet1.xml"


def test_numbers_keep_every_digit_and_dates_are_iso() -> None:
    row = [498.5, 500.0, 1 / 3, 1e-7, True, date(2026, 5, 12), datetime(2026, 5, 12, 10, 2)]
    written = only(book([list("abcdefg"), row]))
    ((number, cells),) = written.rows
    assert number == 2
    assert cells == (
        "498.5",
        "500",
        "0.3333333333333333",
        "1e-07",
        "yes",
        "2026-05-12",
        "2026-05-12T10:02",
    )
    assert [float(text) for text in cells[:4]] == row[:4]
    assert written.typed == {(2, 0), (2, 1), (2, 2), (2, 3)}


def test_all_seventeen_digits_of_a_double_are_kept() -> None:
    data = with_part(book([["a", "b"], [0.3, 1]]), SHEET_1, "0.3<", "0.30000000000000004<")
    assert only(data).rows[0][1][0] == "0.30000000000000004"


def test_titles_and_empty_rows_above_the_head_are_passed_over() -> None:
    rows = [[], ["Survey of the tourer"], [], HEAD, ["door", 1, 10, 20, 500], [], ["door", 2]]
    written = only(book(rows))
    assert written.head_row == 4
    assert written.head == tuple(HEAD)
    assert [number for number, _ in written.rows] == [5, 7]


def test_what_is_merged_downwards_holds_for_each_row_but_not_sideways() -> None:
    rows = [HEAD, ["door", 1, 10, 20, 500], [None, 1, 11, 20, 503], [None, 2, 300, 20, 499]]
    written = only(book(rows, merge="A2:A4"))
    assert [cells[0] for _, cells in written.rows] == ["door"] * 3
    sideways = only(book(rows, merge="C2:D2"))
    assert sideways.rows[0][1] == ("door", "1", "10", "", "500")


def test_a_formula_is_the_value_kept_of_it_and_without_one_a_fault_at_its_cell(
    tmp_path: Path,
) -> None:
    data = book([HEAD, ["door", 1, 10, 20, "=250+250"], ["door", 1, 10, 20, 501]])
    (tmp_path / "film.xlsx").write_bytes(data)
    with pytest.raises(InputFaultsError) as caught:
        read_folder(tmp_path)
    (fault,) = caught.value.faults
    assert (fault.file, fault.row, fault.column) == ("film.xlsx", 2, "thickness_um")
    assert fault.value == "=250+250"
    assert "does not keep what it gives" in fault.rule
    worked = with_part(data, SHEET_1, "<v></v>", "<v>500</v>")
    assert only(worked).rows[0][1][4] == "500"


def test_an_error_of_the_spreadsheet_is_odd_at_its_cell() -> None:
    written = only(book([["a", "b"], ["#DIV/0!", 1]]))
    assert written.odd.keys() == {(2, 0)}
    assert written.rows == ((2, ("#DIV/0!", "1")),)


def test_a_date_beyond_the_calendar_is_odd_and_warns_nobody() -> None:
    data = book([["a", "b"], [date(2026, 5, 12), 1]])
    written = only(with_part(data, SHEET_1, "<v>46154</v>", "<v>99999999</v>"))
    assert written.odd.keys() == {(2, 0)}


def test_sheets_that_hold_nothing_are_left_out_and_the_others_named() -> None:
    sheets = read_spreadsheet(book([], [HEAD, ["door"]], [["note"]]), file="gauge.xlsx")
    assert isinstance(sheets, tuple)
    assert [written.sheet for written in sheets] == ["Sheet1", "Sheet2"]
    assert "holds anything" in refusal(book([])).rule


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "older kind (.xls)"),
        (b"PK\x03\x04\x00\x00", "cannot be opened as a spreadsheet"),
    ],
)
def test_other_kinds_are_refused_by_their_kind(data: bytes, words: str) -> None:
    assert words in refusal(data).rule


@pytest.mark.parametrize(
    ("parts", "words"),
    [
        ({"mimetype": "application/vnd.oasis.opendocument.spreadsheet"}, ".ods"),
        ({"film.csv": "panel"}, "no spreadsheet"),
        ({"[Content_Types].xml": "<Types/>", "xl/workbook.bin": ""}, ".xlsb"),
        ({"[Content_Types].xml": "<Types/>"}, "damaged"),
        ({"[Content_Types].xml": '<!DOCTYPE t [<!ENTITY a "b">]><t/>'}, "document type"),
    ],
)
def test_other_packages_are_refused_by_what_they_hold(parts: dict[str, str], words: str) -> None:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w") as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    assert words in refusal(file.getvalue()).rule


def test_the_strict_kind_is_refused_by_its_name() -> None:
    ordinary = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
    strict = "http://purl.oclc.org/ooxml/spreadsheetml/main"
    assert (
        "strict kind" in refusal(with_part(book([HEAD]), "xl/workbook.xml", ordinary, strict)).rule
    )


def test_what_would_unpack_beyond_the_limit_is_not_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(package_guard, "MAX_UNPACKED_BYTES", 1_000)
    assert "would unpack to" in refusal(book([HEAD])).rule


@pytest.mark.parametrize("far", ["XFD2", "A1048576"])
def test_a_cell_far_out_does_not_make_billions_of_empty_ones(far: str) -> None:
    made = openpyxl.Workbook()
    made.active["A1"], made.active[far] = "panel", 1
    assert "are taken" in refusal(saved(made)).rule


def test_merged_ranges_that_claim_too_many_rows_are_refused(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(spreadsheet_module, "_MAX_MERGED_ROWS", 1)
    rows = [HEAD, ["door", 1, 10, 20, 500], [None, 1], [None, 2]]
    assert "merges more than" in refusal(book(rows, merge="A2:A4")).rule


def test_damaged_bytes_are_a_fault_or_a_sheet_and_never_a_crash() -> None:
    data = book([HEAD, ["door", 1, 10, 20, 500.5]])
    met = set()
    for at in range(0, len(data), 97):
        hurt = data[:at] + bytes([data[at] ^ 0xFF]) + data[at + 1 :]
        met.add(type(read_spreadsheet(hurt, file="gauge.xlsx")))
    assert met == {Fault, tuple}


@pytest.mark.parametrize(
    "part", ["[Content_Types].xml", "xl/workbook.xml", "xl/styles.xml", SHEET_1]
)
def test_a_part_whose_xml_is_broken_is_a_fault(part: str) -> None:
    data = book([HEAD, ["door", 1, 10, 20, 500.5]])
    assert "damaged" in refusal(with_part(data, part, ">", " <", times=1)).rule


def test_a_folder_may_hold_a_table_as_a_spreadsheet_but_not_twice(tmp_path: Path) -> None:
    rows = [HEAD, ["door", 1, 10.25, 20, 498.5]]
    (tmp_path / "film.xlsx").write_bytes(book(rows))
    (row,) = read_folder(tmp_path).sheet("film")
    assert (row.text("spot"), row.number("x_mm"), row.number("thickness_um")) == ("1", 10.25, 498.5)
    (tmp_path / "film.csv").write_text(",".join(HEAD) + "\ndoor,1,10,20,498.5\n")
    with pytest.raises(InputFaultsError, match=r"film\.csv is there too"):
        read_folder(tmp_path)
