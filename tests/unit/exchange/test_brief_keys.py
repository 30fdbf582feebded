"""Keys of the brief that nobody would read are told, not passed over."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.unit.exchange.test_read import FILM, faults_of, folder

from asfound.exchange import read_folder
from asfound.exchange.nearest import nearest

OPTIONS = "subject,option,treatment,kept,grade,cost,hours_trimmer\nseat,a,clean,1,2,3,4\n"
SUBJECTS = "subject,weight,min_grade,zone\nseat,,,exterior\n"


@pytest.mark.parametrize(
    ("key", "value", "meant"),
    [
        ("max_cost", "4000", "cost_max"),
        ("costMax", "4000", "cost_max"),
        ("Cost_Max", "4000", "cost_max"),
        ("cost_mx", "4000", "cost_max"),
        ("hour_max", '{"trimmer": 40}', "hours_max"),
        ("min_grades", '{"exterior": 3}', "min_grade"),
        ("notes", '"as it stands"', "note"),
    ],
)
def test_a_misspelt_key_is_told_with_the_one_that_is_meant(
    tmp_path: Path, key: str, value: str, meant: str
) -> None:
    folder(tmp_path, brief_json=f'{{"{key}": {value}}}')
    (fault,) = faults_of(tmp_path)
    assert (fault.file, fault.column) == ("brief.json", key)
    assert "it has name, cost_max, hours_max, min_grade, note" in fault.rule
    assert f"Write '{meant}'" in fault.remedy


def test_a_limit_under_a_strange_key_is_told_without_a_guess(tmp_path: Path) -> None:
    folder(tmp_path, brief_json='{"budget": 4000}')
    (fault,) = faults_of(tmp_path)
    assert fault.column == "budget"
    assert "one of these keys" in fault.remedy


def test_a_remark_under_a_strange_key_is_kept(tmp_path: Path) -> None:
    folder(tmp_path, brief_json='{"cost_max": 1, "seen by": ["aunt"]}', film_csv=FILM)
    brief = read_folder(tmp_path).brief
    assert brief is not None
    assert brief["seen by"] == ["aunt"]


@pytest.mark.parametrize(
    ("brief", "column", "meant"),
    [
        ('{"hours_max": {"trimer": 40}}', "hours_max: trimer", "trimmer"),
        ('{"hours_max": {"Trimmer": 40}}', "hours_max: Trimmer", "trimmer"),
        ('{"min_grade": {"exteror": 3}}', "min_grade: exteror", "exterior"),
    ],
)
def test_a_slip_in_a_trade_or_zone_is_told(
    tmp_path: Path, brief: str, column: str, meant: str
) -> None:
    folder(tmp_path, brief_json=brief, options_csv=OPTIONS, subjects_csv=SUBJECTS)
    (fault,) = faults_of(tmp_path)
    assert fault.column == column
    assert f"Write '{meant}'" in fault.remedy


def test_a_limit_on_what_the_car_has_not_is_no_fault(tmp_path: Path) -> None:
    brief = '{"hours_max": {"welder": 9}, "min_grade": {"interior": 3}}'
    folder(tmp_path, brief_json=brief, options_csv=OPTIONS, subjects_csv=SUBJECTS)
    assert read_folder(tmp_path).brief is not None


def test_names_that_differ_in_a_number_are_different() -> None:
    assert nearest("bay of seats 11", ["bay of seats 12"]) == ""
    assert nearest("bay of seat 12", ["bay of seats 12"]) == "bay of seats 12"


@pytest.mark.parametrize(
    ("brief", "column", "words"),
    [
        ('{"untouched": ["exteror"]}', "untouched", "Write 'exterior'"),
        ('{"untouched": ["gearbox"]}', "untouched", "Correct the name"),
        ('{"untouched": "exterior"}', "untouched", '["name"]'),
        ('{"needs_evidence": ["refinsh"]}', "needs_evidence", "Write 'refinish'"),
        ('{"needs_evidence": [3]}', "needs_evidence", "or null for none"),
    ],
)
def test_names_that_would_bind_nothing_are_told(
    tmp_path: Path, brief: str, column: str, words: str
) -> None:
    folder(tmp_path, brief_json=brief, options_csv=OPTIONS, subjects_csv=SUBJECTS)
    (fault,) = faults_of(tmp_path)
    assert fault.column == column
    assert words in fault.remedy


def test_names_that_the_car_has_are_taken(tmp_path: Path) -> None:
    brief = '{"untouched": ["exterior", "seat"], "needs_evidence": ["refinish", "clean"]}'
    folder(tmp_path, brief_json=brief, options_csv=OPTIONS, subjects_csv=SUBJECTS)
    brief_read = read_folder(tmp_path).brief
    assert brief_read is not None
    assert brief_read["untouched"] == ["exterior", "seat"]
