"""Rows of identifiers as judged marks, as evidence and as JSON."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from asfound.__main__ import app
from asfound.demo.written import Rows, sheet
from asfound.exchange import read_folder
from asfound.record.convert.day_window import day_window
from asfound.record.convert.numbers import marks_of
from asfound.record.derived import weighed_evidence
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.weigh.dates.days import day_number, iso_day

BLOCK = {
    "kind": "engine",
    "text_as_read": "M 1607",
    "method": "stamped",
    "where": "pad",
    "expected": "M 1607",
    "expected_source": "works build sheet",
    "part": "engine block",
}
MADE = {"marque": "Tessivane", "model": "Meridel", "body_style": "tourer", "built": "1957"}


def car(*rows: dict[str, str], **tables: Rows) -> CarFolder:
    sheets = {"car": [MADE], "identifiers": list(rows), **tables}
    return CarFolder(sheets={name: sheet(table) for name, table in sheets.items()})


def test_the_source_is_classed_by_its_name_unless_a_person_says() -> None:
    (found,) = marks_of(car(BLOCK))
    assert found.judged.words == "same as the factory build record"
    (said,) = marks_of(car(BLOCK | {"record": "other paper"}))
    assert said.judged.words == "same as another paper"


def test_a_mark_that_is_not_there() -> None:
    (found,) = marks_of(car(BLOCK | {"text_as_read": "Not found"}))
    assert found.judged.words == "not found; looked for by the factory build record"


def test_the_check_comes_in_as_evidence_of_its_part() -> None:
    dated = BLOCK | {"cast_on": "1957-02", "assembled_on": "1957-03"}
    (weighed,) = weighed_evidence(car(dated))
    assert weighed.claim.subject == "engine block"
    assert [(i.item.item, i.counts_lr) for i in weighed.items] == [
        ("engine number same as the factory build record", 50.0),
        ("engine dates consistent with dates only", 3.0),
    ]
    own = [{"verdict": "same", "against": "factory build record", "lr": "4", "why": "re-stamped"}]
    assert weighed_evidence(car(dated, number_weights=own))[0].lr == 12.0


def test_stamp_and_plate_of_one_number_are_not_multiplied() -> None:
    plate = BLOCK | {"where": "plate", "method": "plate"}
    (weighed,) = weighed_evidence(car(BLOCK, plate))
    assert weighed.lr == 50.0


def test_a_kind_that_is_a_part_needs_no_part_named() -> None:
    parts = [{"part": "Gearbox", "name": "Gearbox"}]
    mark = {**BLOCK, "kind": "gearbox", "part": ""}
    assert marks_of(car(mark, parts=parts))[0].part == "Gearbox"
    assert weighed_evidence(car(mark)) == ()


def test_a_class_its_code_does_not_have_is_told_at_its_row(tmp_path: Path) -> None:
    (tmp_path / "preservation_classes.csv").write_text(
        "code,class,edition\nvehicle type,A,2010\npreservation group,B,2010\n", encoding="utf-8"
    )
    with pytest.raises(InputFaultsError) as caught:
        read_folder(tmp_path)
    (fault,) = caught.value.faults
    assert (fault.row, fault.column, fault.value) == (3, "class", "B")


def test_the_command_prints_verdicts_and_classes(tmp_path: Path) -> None:
    (tmp_path / "car.csv").write_text(
        "marque,model,body_style,built\nTessivane,Meridel,tourer,1957\n", encoding="utf-8"
    )
    (tmp_path / "identifiers.csv").write_text(
        "kind,text_as_read,method,where,expected,expected_source\n"
        "engine,M 1067,stamped,pad,M 1607,works build sheet\n",
        encoding="utf-8",
    )
    (tmp_path / "preservation_classes.csv").write_text(
        "code,class,edition\nvehicle type,D,2010\n", encoding="utf-8"
    )
    told = json.loads(CliRunner().invoke(app, ["numbers", str(tmp_path), "--json"]).stdout)
    assert told["marks"][0]["verdict"] == "conflict"
    assert told["marks"][0]["against"] == "factory build record"
    assert told["classes"][0]["edition"] == "2010"
    words = CliRunner().invoke(app, ["numbers", str(tmp_path)]).stdout
    assert "conflict with the factory build record" in words
    assert "edition 2010" in words


@pytest.mark.parametrize(
    ("text", "first", "last"),
    [
        ("1957", "1957-01-01", "1957-12-31"),
        ("1957-02", "1957-02-01", "1957-02-28"),
        ("1956~", "1955-01-01", "1957-12-31"),
        ("1958/1963-05", "1958-01-01", "1963-05-31"),
        ("2026-03-04 09:30", "2026-03-04", "2026-03-04"),
    ],
)
def test_days_of_a_date(text: str, first: str, last: str) -> None:
    found = day_window(text)
    assert found[0] is not None
    assert found[1] is not None
    assert (iso_day(found[0]), iso_day(found[1])) == (first, last)


def test_open_dates_and_no_dates() -> None:
    assert day_window("../1957") == (None, day_number(year=1958) - 1)
    assert day_window("long ago") == (None, None)


def test_history_lists_evidence_that_does_not_count(tmp_path: Path) -> None:
    (tmp_path / "car.csv").write_text(
        "marque,model,body_style,built\nTessivane,Meridel,tourer,1957\n"
    )
    (tmp_path / "evidence.csv").write_text(
        "subject,statement,alternative,item,lr,basis,standing,standing_why\n"
        "door,original,replaced,old paint,5,experience,,\n"
        "door,original,replaced,hearsay,2,experience,doubted,told at third hand\n"
    )
    told = CliRunner().invoke(app, ["history", str(tmp_path), "--json"])
    assert told.exit_code == 0, told.output
    assert json.loads(told.stdout)["evidence_set_aside"] == [
        {"name": "door: hearsay, ratio 2", "standing": "doubted", "why": "told at third hand"}
    ]


def test_the_command_says_which_number_does_not_count(tmp_path: Path) -> None:
    (tmp_path / "car.csv").write_text(
        "marque,model,body_style,built\nTessivane,Meridel,tourer,1957\n"
    )
    (tmp_path / "identifiers.csv").write_text(
        "kind,text_as_read,method,where,standing,standing_why\n"
        "engine,M 1607,stamped,pad,,\n"
        "engine,M 1670,stamped,pad,withdrawn,misread in bad light\n"
    )
    told = CliRunner().invoke(app, ["numbers", str(tmp_path)])
    assert told.exit_code == 0, told.output
    aside = "Does not count: engine, pad: M 1670; withdrawn: misread in bad light."
    assert aside in told.output
    assert told.output.count("M 1670") == 1
    printed = json.loads(CliRunner().invoke(app, ["numbers", str(tmp_path), "--json"]).stdout)
    assert printed["set_aside"] == [
        {
            "name": "engine, pad: M 1670",
            "standing": "withdrawn",
            "why": "misread in bad light",
        }
    ]
    assert [mark["text_as_read"] for mark in printed["marks"]] == ["M 1607"]
    (tmp_path / "identifiers.csv").write_text(
        "kind,text_as_read,method,where,standing\nengine,M 1607,stamped,pad,doubted\n"
    )
    told = CliRunner().invoke(app, ["numbers", str(tmp_path)])
    assert told.exit_code != 0
    assert "standing_why must say why" in str(told.exception) + told.output
