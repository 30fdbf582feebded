"""``asfound plan`` at the edges: numbers without end, days out of sight, weekends, moments."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from tests.unit.cli.asked import change, code

from asfound.record.tables.worked import HOLD_KINDS

TASKS = """task,name,trade,hours_low,hours_likely,hours_high,people,earliest,due
sand,Sand it,paint,1,2,3,,2026-03-06,
spray,Spray it,paint,1,2,3,,,
"""
LINKS = "before,after,lag_hours\nsand,spray,\n"
PEOPLE = "person,trades,hours_per_day,days,away\nAnn,paint,8,,\nBo,paint,8,,\n"
HOLD = f"subject,task,kind,why,expected\nwing,spray,{HOLD_KINDS[0]},to look,"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in {"tasks": TASKS, "task_links": LINKS, "people": PEOPLE}.items():
        (tmp_path / f"{name}.csv").write_text(text)
    return tmp_path


def times(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, tuple[str, str]]:
    assert code("plan", *arguments, "--json") == 0
    told: dict[str, Any] = json.loads(capsys.readouterr().out)
    assert told["proved"] is True
    return {task["task"]: (task["start"], task["end"]) for task in told["tasks"]}


@pytest.mark.parametrize(
    "wrong",
    [
        ("--seed", "-1"),
        ("--seed", "99999999999"),
        ("--seconds", "nan"),
        ("--seconds", "inf"),
        ("--seconds", "0"),
    ],
)
def test_a_number_that_is_none_is_wrong_use(
    folder: Path, capsys: pytest.CaptureFixture[str], wrong: tuple[str, str]
) -> None:
    assert code("plan", str(folder), "--json", *wrong) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert wrong[0] in err


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        ("tasks.csv", "2026-03-06", "9999-12-31", "where the calendar ends"),
        (
            "task_links.csv",
            "spray,",
            "spray,1e12",
            "row 2: lag_hours is '1e12'; the wait ends more",
        ),
        ("task_links.csv", "spray,", "spray,175400", "row 2: lag_hours is '175400'"),
        (
            "people.csv",
            "Bo,paint,8",
            "Bo,paint,0.001",
            "row 3: hours_per_day is '0.001'; Bo works no",
        ),
    ],
)
def test_what_lies_out_of_sight_is_named_at_its_row(
    folder: Path, capsys: pytest.CaptureFixture[str], file: str, old: str, new: str, told: str
) -> None:
    change(folder, file, old, new)
    assert code("plan", str(folder), "--json") == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert file in err
    assert told in err


def test_a_task_that_may_start_in_forty_years_is_named(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(folder, "tasks.csv", "2026-03-06", "2066-03-06")
    assert code("plan", str(folder), "--json", "--start", "2026-03-02") == 3
    err = capsys.readouterr().err
    assert "tasks.csv, row 2: earliest is '2066-03-06'; sand may start more than 20 years" in err


@pytest.mark.parametrize(
    ("expected", "told"),
    [
        ("2026-04-01/..", "what is held without an end can never be planned"),
        ("2099-01-01", "the wait ends more than 20 years after 2026-03-06"),
    ],
)
def test_a_hold_without_an_end_in_sight_is_named(
    folder: Path, capsys: pytest.CaptureFixture[str], expected: str, told: str
) -> None:
    (folder / "holds.csv").write_text(f"{HOLD}{expected}\n")
    assert code("plan", str(folder), "--json") == 3
    err = capsys.readouterr().err
    assert f"holds.csv, row 2: expected is '{expected}'" in err
    assert told in err


def test_a_due_day_at_the_end_of_the_calendar_asks_for_nothing(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    free = times(capsys, str(folder))
    change(folder, "tasks.csv", "2026-03-06,", "2026-03-06,9999-12-31")
    assert times(capsys, str(folder)) == free


def test_a_plan_that_begins_on_a_weekend_or_a_closed_day_begins_when_somebody_works(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    found = times(capsys, str(folder), "--start", "2026-03-07")  # a Saturday
    assert found["sand"] == ("2026-03-09T08:00", "2026-03-09T10:00")
    (folder / "closed_days.csv").write_text("days\n2026-03-09/2026-03-10\n")
    found = times(capsys, str(folder), "--start", "2026-03-07")
    assert found["sand"] == ("2026-03-11T08:00", "2026-03-11T10:00")


def test_waits_run_over_weekends_by_the_clock(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(folder, "task_links.csv", "spray,", "spray,72")
    found = times(capsys, str(folder))  # Friday 10:00 and 72 hours
    assert found["spray"] == ("2026-03-09T10:00", "2026-03-09T12:00")
    change(folder, "task_links.csv", "spray,72", "spray,1000")
    found = times(capsys, str(folder))  # Friday 10:00 and 41 days 16 hours: Friday 02:00
    assert found["spray"] == ("2026-04-17T08:00", "2026-04-17T10:00")


def test_a_moment_after_friday_s_last_hour_falls_on_monday(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(folder, "tasks.csv", "sand,Sand it,paint,1,2,3", "sand,Sand it,paint,8,8,8")
    change(folder, "tasks.csv", "spray,Spray it,paint,1,2,3", "spray,Spray it,paint,0,0,0")
    found = times(capsys, str(folder))
    assert found["sand"] == ("2026-03-06T08:00", "2026-03-06T16:00")
    assert found["spray"] == ("2026-03-09T08:00", "2026-03-09T08:00")


def test_two_of_a_trade_wait_until_both_are_in(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(folder, "tasks.csv", "sand,Sand it,paint,1,2,3,", "sand,Sand it,paint,1,2,3,2")
    change(folder, "people.csv", "Bo,paint,8,,", "Bo,paint,8,Tue–Wed,")
    found = times(capsys, str(folder))
    assert found["sand"] == ("2026-03-10T08:00", "2026-03-10T10:00")
