"""A folder that breaks a rule is told every fault, with file, row, value, rule and remedy."""

from __future__ import annotations

from pathlib import Path

import pytest

from asfound.exchange import read as read_module
from asfound.exchange import read_folder
from asfound.record.faults import Fault, InputFaultsError

PANELS = (
    "panel,section,substrate,outline_wkt\n"
    'door,left,steel,"POLYGON ((0 0, 900 0, 900 700, 0 700, 0 0))"\n'
)
FILM = "panel,spot,x_mm,y_mm,thickness_um\n"


def folder(path: Path, **files: str | bytes) -> Path:
    """Write files named by keyword, ``film_csv`` for ``film.csv``."""
    for name, content in files.items():
        stem, _, ending = name.rpartition("_")
        data = content if isinstance(content, bytes) else content.encode()
        (path / f"{stem}.{ending}").write_bytes(data)
    return path


def faults_of(path: Path) -> list[Fault]:
    with pytest.raises(InputFaultsError) as caught:
        read_folder(path)
    return list(caught.value.faults)


@pytest.mark.parametrize(
    ("separator", "decimal", "encoding"),
    [
        (",", ".", "utf-8"),
        (";", ",", "utf-8-sig"),
        (";", ",", "cp1252"),
        ("\t", ",", "utf-8"),
        ("\t", ".", "utf-16"),
    ],
)
def test_dialects_read_alike(tmp_path: Path, separator: str, decimal: str, encoding: str) -> None:
    lines = [
        ["panel", "spot", "x_mm", "y_mm", "thickness_um", "by"],
        ["Tür", "1", "10.5", "20", "112.25", "Jörg"],
    ]
    lines[1] = [cell.replace(".", decimal) for cell in lines[1]]
    text = "\r\n".join(separator.join(line) for line in lines)
    (tmp_path / "film.csv").write_bytes(text.encode(encoding))
    (row,) = read_folder(tmp_path).sheet("film")
    assert row.text("panel") == "Tür"
    assert row.text("by") == "Jörg"
    assert row.number("x_mm") == 10.5
    assert row.text("thickness_um") == "112.25"


def test_heads_in_other_case_and_unknown_columns_are_kept(tmp_path: Path) -> None:
    folder(tmp_path, film_csv=" Panel ,SPOT,x_mm,Y_mm,Thickness_um,Weather\nhood,1,1,2,100,rain\n")
    sheet = read_folder(tmp_path).sheet("film")
    assert sheet.columns == ("panel", "spot", "x_mm", "y_mm", "thickness_um", "Weather")
    assert sheet.rows == (("hood", "1", "1", "2", "100", "rain"),)


def test_empty_folder(tmp_path: Path) -> None:
    (fault,) = faults_of(tmp_path)
    assert "no table" in fault.rule
    assert "film.csv" in fault.remedy


def test_not_a_folder(tmp_path: Path) -> None:
    (fault,) = faults_of(tmp_path / "nowhere")
    assert "not a folder" in fault.rule


def test_missing_columns_are_each_named(tmp_path: Path) -> None:
    folder(tmp_path, film_csv="panel,x_mm,y_mm\nhood,1,2\n")
    rules = [fault.rule for fault in faults_of(tmp_path)]
    assert rules == ["the column spot is missing", "the column thickness_um is missing"]


@pytest.mark.parametrize(
    ("value", "rule"),
    [
        ("-4", "cannot be negative"),
        ("thick", "must be a number in µm"),
        ("85 µm", "must be a number in µm"),
        ("", "must be filled"),
        ("nan", "must be a number"),
        ("inf", "must be a number"),
        ("1e999", "must be a number"),
        ("99999", "must be 50000 µm or less"),
        ('"1,234"', "mark for thousands"),
        ("1.2.5", "must be a number"),
    ],
)
def test_a_bad_thickness_is_told_with_its_row(tmp_path: Path, value: str, rule: str) -> None:
    folder(tmp_path, film_csv=f"{FILM}door,1,10,10,100\ndoor,2,10,90,{value}\n")
    (fault,) = faults_of(tmp_path)
    assert (fault.file, fault.row, fault.column) == ("film.csv", 3, "thickness_um")
    assert fault.value == value.strip('"')
    assert rule in fault.rule
    assert fault.remedy


def test_all_faults_of_all_files_come_at_once(tmp_path: Path) -> None:
    folder(
        tmp_path,
        panels_csv="panel,section,substrate,outline_wkt\ndoor,left,wood,POLYGON\n",
        film_csv=f"{FILM}door,1,ten,10,-1\nroof,1,0,0,100\n",
        shims_csv="nominal_um\n0\n",
        brief_json='{"cost_max": -1, "hours_max": {"trimmer": "forty"}}',
    )
    told = {(fault.file, fault.row, fault.column) for fault in faults_of(tmp_path)}
    assert told >= {
        ("panels.csv", 2, "substrate"),
        ("panels.csv", 2, "outline_wkt"),
        ("film.csv", 2, "x_mm"),
        ("film.csv", 2, "thickness_um"),
        ("film.csv", 3, "panel"),
        ("shims.csv", 1, ""),
        ("brief.json", 0, "cost_max"),
        ("brief.json", 0, "hours_max: trimmer"),
    }


def test_unknown_panel(tmp_path: Path) -> None:
    folder(tmp_path, panels_csv=PANELS, film_csv=f"{FILM}roof,1,0,0,100\n")
    (fault,) = faults_of(tmp_path)
    assert (fault.file, fault.row, fault.column, fault.value) == ("film.csv", 2, "panel", "roof")
    assert "panels.csv" in fault.rule


def test_a_spot_is_one_place(tmp_path: Path) -> None:
    rows = "door,7,100,100,110\ndoor,7,120,110,112\ndoor,7,400,100,109\n"
    folder(tmp_path, panels_csv=PANELS, film_csv=FILM + rows)
    (fault,) = faults_of(tmp_path)
    assert (fault.row, fault.value) == (4, "door, 7")
    assert "row 2" in fault.rule
    assert "40 mm" in fault.rule


def test_names_are_unique(tmp_path: Path) -> None:
    row = 'door,left,steel,"POLYGON ((0 0, 9 0, 9 7, 0 0))"\n'
    folder(tmp_path, panels_csv=PANELS + row)
    (fault,) = faults_of(tmp_path)
    assert (fault.row, fault.column, fault.value) == (3, "panel", "door")
    assert "row 2" in fault.rule


@pytest.mark.parametrize(
    ("wkt", "rule"),
    [
        ("POINT (1 1)", "must be a WKT polygon"),
        ("POLYGON EMPTY", "must be a WKT polygon"),
        ("POLYGON ((0 0, 10 10, 10 0, 0 10, 0 0))", "cross itself"),
        ("gibberish", "must be a WKT polygon"),
    ],
)
def test_outlines(tmp_path: Path, wkt: str, rule: str) -> None:
    folder(tmp_path, panels_csv=f'panel,section,substrate,outline_wkt\nx,left,steel,"{wkt}"\n')
    (fault,) = faults_of(tmp_path)
    assert rule in fault.rule


def test_links_and_locks_name_options_that_exist(tmp_path: Path) -> None:
    folder(
        tmp_path,
        options_csv="subject,option,treatment,kept,grade,cost\nseat,a,clean,1,2,3\n",
        subjects_csv="subject,weight,min_grade,locked_option\nseat,,,b\n",
        option_links_csv="kind,subject,option,other_subject,other_option\n"
        "requires,seat,a,carpet,a\nneeds,seat,a,seat,a\n",
    )
    told = {(f.file, f.row, f.column) for f in faults_of(tmp_path)}
    assert told == {
        ("subjects.csv", 2, "subject and locked_option"),
        ("option_links.csv", 2, "other_subject and other_option"),
        ("option_links.csv", 3, "kind"),
    }


def test_a_file_beyond_the_limit_is_refused_unread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with (tmp_path / "film.csv").open("wb") as file:
        file.truncate(200_000_000)
    monkeypatch.setattr(read_module, "read_sheet", lambda *_, **__: pytest.fail("was read"))
    (fault,) = faults_of(tmp_path)
    assert "200 MB" in fault.rule


@pytest.mark.parametrize(
    ("content", "rule"),
    [
        ("", "empty"),
        ("\x00\x01PK", "NUL bytes"),
        ('panel,spot,x_mm,y_mm,thickness_um\n"door,1,2,3,4', "a double quote opens in this row"),
        (f"{FILM}door,1,2,3,4,5\n", "more cells"),
        ("panel,spot,spot,x_mm,y_mm,thickness_um\ndoor,1,1,2,3,4\n", "stands 2 times"),
    ],
)
def test_files_that_are_no_table(tmp_path: Path, content: str, rule: str) -> None:
    folder(tmp_path, film_csv=content)
    (fault,) = faults_of(tmp_path)
    assert fault.file == "film.csv"
    assert rule in fault.rule


def test_rows_count_as_a_spreadsheet_shows_them(tmp_path: Path) -> None:
    folder(tmp_path, film_csv=f'{FILM}\ndoor,1,1,1,100\n"a\nb",1,1,1,x\n')
    (fault,) = faults_of(tmp_path)
    assert fault.row == 4


@pytest.mark.parametrize("content", ["{", "[1]", b"\xff\xfe\x00", '{"cost_max": true}'])
def test_briefs_that_are_none(tmp_path: Path, content: str | bytes) -> None:
    folder(tmp_path, brief_json=content, film_csv=f"{FILM}door,1,1,1,1\n")
    (fault,) = faults_of(tmp_path)
    assert fault.file == "brief.json"


def test_one_car_a_folder(tmp_path: Path) -> None:
    head = "marque,model,body_style,built\n"
    folder(tmp_path, car_csv=head + "A,B,tourer,1957\nA,C,tourer,1957-13\n")
    rules = [fault.rule for fault in faults_of(tmp_path)]
    assert any("one row, not 2" in rule for rule in rules)
    assert any("EDTF" in rule for rule in rules)


def test_hours_saved_by_a_trade_that_nobody_has(tmp_path: Path) -> None:
    folder(
        tmp_path,
        options_csv="subject,option,treatment,kept,grade,cost,hours_trimmer\nseat,a,clean,1,2,3,4\n",
        option_links_csv="kind,subject,option,other_subject,other_option,saves_hours,trade\n"
        "shares,seat,a,seat,a,1,welder\nshares,seat,a,seat,a,1,trimmer\n"
        "shares,seat,a,seat,a,0,\n",
    )
    (fault,) = faults_of(tmp_path)
    assert (fault.row, fault.column, fault.value) == (2, "trade", "welder")


def test_a_long_note_is_taken(tmp_path: Path) -> None:
    note = "seen and written down; " * 10_000
    folder(tmp_path, car_csv=f'marque,model,body_style,built,note\nA,B,tourer,1957,"{note}"\n')
    (row,) = read_folder(tmp_path).sheet("car")
    assert row.text("note") == note.strip()


def test_a_row_keeps_its_number_where_lines_are_empty(tmp_path: Path) -> None:
    (fault,) = faults_of(
        folder(tmp_path, panels_csv=PANELS, film_csv=FILM + "\ndoor,1,1,1,100\n\nroof,1,1,1,100\n")
    )
    assert (fault.row, fault.value) == (5, "roof")


@pytest.mark.parametrize(
    ("file", "content", "rule"),
    [
        ("brief_json", '{"cost_max": 1' + "0" * 400 + "}", "must be a number"),
        ("brief_json", '{"cost_max": 1' + "0" * 5000 + "}", "not JSON"),
        ("lift_json", '{"clearance_mm": NaN}', "NaN is no number in JSON"),
    ],
)
def test_numbers_that_no_float_holds_are_faults(
    tmp_path: Path, file: str, content: str, rule: str
) -> None:
    (fault,) = faults_of(folder(tmp_path, **{file: content}))
    assert rule in fault.rule


@pytest.mark.parametrize("date", ["/..", "../", "1961-13"])
def test_a_date_that_is_none_is_a_fault_and_prints_nothing(
    tmp_path: Path, date: str, capsys: pytest.CaptureFixture[str]
) -> None:
    car = f"marque,model,body_style,built\nOrrin,Six,saloon,{date}\n"
    (fault,) = faults_of(folder(tmp_path, car_csv=car))
    assert fault.column == "built"
    assert capsys.readouterr().out == ""
