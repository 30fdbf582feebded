"""``asfound plan``: the result on standard output, refusals with their codes."""

from __future__ import annotations

import json
import signal
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from tests.unit.cli.asked import change, code

from asfound.demo.car import demo_folder
from asfound.exchange import write_folder
from asfound.plan import Plan
from asfound.plan import plan as plan_work

TASKS = """task,name,trade,hours_low,hours_likely,hours_high,people,bay,subject,earliest
strip,Strip the wing,panel,4,6,10,,bench,wing,2026-03-02
paint,Paint it,paint,6,8,12,,booth,wing,
lift,Hang it,panel,1,2,3,2,,wing,
"""
LINKS = "before,after,lag_hours\nstrip,paint,\npaint,lift,24\n"
PEOPLE = """person,trades,hours_per_day,days,away
Ann,panel,8,,
Bo,panel;paint,6,Mon–Thu,2026-03-04/2026-03-05
"""
BAYS = "bay,count\nbench,1\nbooth,1\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in {
        "tasks": TASKS,
        "task_links": LINKS,
        "people": PEOPLE,
        "bays": BAYS,
    }.items():
        (tmp_path / f"{name}.csv").write_text(text)
    return tmp_path


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert code("plan", *arguments, "--json") == 0
    result: dict[str, Any] = json.loads(capsys.readouterr().out)
    return result


def test_json_alone_stands_on_standard_output(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("plan", str(folder), "--json") == 0
    out, err = capsys.readouterr()
    assert err == ""
    result = json.loads(out)
    assert {"days", "lower_bound_days", "proved", "tasks", "promise", "critical"} <= set(result)
    # Bo paints on Tuesday from 08:00, is away Wednesday and Thursday, off on Friday, and ends on
    # Monday; it dries until Tuesday 10:00, when both can hang it.
    assert result["tasks"] == [
        {
            "task": "strip",
            "start": "2026-03-02T08:00",
            "end": "2026-03-02T14:00",
            "people": ["Ann"],
            "bay": "bench",
        },
        {
            "task": "paint",
            "start": "2026-03-03T08:00",
            "end": "2026-03-09T10:00",
            "people": ["Bo"],
            "bay": "booth",
        },
        {
            "task": "lift",
            "start": "2026-03-10T10:00",
            "end": "2026-03-10T12:00",
            "people": ["Ann", "Bo"],
            "bay": None,
        },
    ]
    assert result["proved"] is True
    assert result["days"] == result["lower_bound_days"] == 6.5
    assert result["critical"] == ["paint", "lift"]
    assert list(result["promise"]) == ["p50", "p80", "p95"]
    days = list(result["promise"].values())
    assert days == sorted(days)
    assert days[0] >= "2026-03-10"


def test_start_moves_the_plan_and_no_clock_is_asked(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    later = answer(capsys, str(folder), "--start", "2026-04-04")
    assert later["tasks"][0]["start"] == "2026-04-06T08:00"  # the fourth is a Saturday
    change(folder, "tasks.csv", "2026-03-02", "")
    assert answer(capsys, str(folder))["start"] == "2026-03-04"  # the first absence
    change(folder, "people.csv", "2026-03-04/2026-03-05", "")
    assert code("plan", str(folder), "--json") == 0
    out, err = capsys.readouterr()
    assert json.loads(out)["start"] == "2001-01-01"
    assert "no table names a day" in err


def test_words_tell_the_plan_the_promise_and_why(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("plan", str(folder)) == 0
    out = capsys.readouterr().out
    assert "6.5 working days from 2026-03-02 to 2026-03-10 12:00 (no plan can be shorter)" in out
    assert "*  paint" in out
    assert "80%" in out


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        ("task_links.csv", "strip,paint,", "lift,strip,\nstrip,paint,", "strip → paint → lift"),
        ("tasks.csv", "Paint it,paint", "Paint it,chrome", "nobody in people.csv"),
        ("tasks.csv", "4,6,10", "-4,6,10", "hours_low cannot be negative"),
        ("tasks.csv", "4,6,10", "8,6,10", "must not fall from low to likely to high"),
        ("tasks.csv", "4,6,10", "4,16,10", "must not fall from low to likely to high"),
        ("tasks.csv", "4,6,10", "4,6,20001", "a task takes 20,000 h at most"),
        ("tasks.csv", "1,2,3,2", "1,2,3,4", "more people of trade panel"),
        ("people.csv", "2026-03-04/2026-03-05", "2026-03-04/..", "Bo is away for ever"),
        ("people.csv", "2026-03-04/2026-03-05", "2020/2090", "Bo is away for ever"),
        ("people.csv", "2026-03-04/2026-03-05", "2026-03-09/2026-03-05", "each absence"),
        ("people.csv", "Mon–Thu", "Mon–Thuesday", "working days of Bo cannot be read"),
        ("people.csv", "panel;paint,6", "panel;paint,0", "Bo works no hours"),
        ("tasks.csv", "bench", "bank", "bays.csv has no such row"),
        ("bays.csv", "booth,1", "booth,0", "has no place of it"),
        ("task_links.csv", "strip,paint", "stripp,paint", "tasks.csv has no such row"),
        ("task_links.csv", "lift,24", "lift,-24", "lag_hours cannot be negative"),
        ("tasks.csv", "2026-03-02", "soon", "earliest must be a date"),
    ],
)
def test_what_stands_against_a_plan_is_told_at_its_row(
    folder: Path, capsys: pytest.CaptureFixture[str], file: str, old: str, new: str, told: str
) -> None:
    change(folder, file, old, new)
    assert code("plan", str(folder), "--json") == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert told in err
    assert ", row " in err


def test_a_due_day_before_the_plan_is_a_fault_and_one_too_soon_has_no_answer(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    change(folder, "tasks.csv", "subject,earliest", "subject,earliest,due")
    change(folder, "tasks.csv", "booth,wing,", "booth,wing,,2026-03-01")
    assert code("plan", str(folder), "--json") == 3
    assert "paint is due before 2026-03-02" in capsys.readouterr().err
    change(folder, "tasks.csv", "2026-03-01", "2026-03-05")
    assert code("plan", str(folder), "--json") == 4
    result = json.loads(capsys.readouterr().out)
    assert result["days"] is None
    assert "paint is due" in result["impossible"][0]


def test_without_bays_each_named_bay_is_one_place(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "bays.csv").unlink()
    assert answer(capsys, str(folder))["days"] == 6.5


def test_no_task_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "people.csv").write_text(PEOPLE)
    assert code("plan", str(tmp_path), "--json") == 3
    assert "nothing to plan" in capsys.readouterr().err


def test_the_invented_car_is_planned_the_same_each_time(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write_folder(demo_folder(), tmp_path / "car")
    result = answer(capsys, str(tmp_path / "car"), "--seed", "3")
    assert result == answer(capsys, str(tmp_path / "car"), "--seed", "3")
    assert result["lower_bound_days"] <= result["days"]
    at = {t["task"]: t for t in result["tasks"]}
    # Paint of T20 dries for 72 h before lamps and bumpers go back.
    dry = datetime.fromisoformat(at["T29"]["start"]) - datetime.fromisoformat(at["T20"]["end"])
    assert dry >= timedelta(hours=72)
    assert len(at) == 32


WORKED = """task,subject,person,from_at,to_at,done
strip,wing,Ann,2026-03-02T08:00:00Z,2026-03-02T18:00:00Z,
strip,wing,Ann,2026-03-03T08:00:00Z,2026-03-03T18:00:00Z,yes
"""


def test_finished_work_is_learned_from_unless_it_is_left_out(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """Stripping took 20 h, not (4 + 4 · 6 + 10)/6: what is to come takes longer too."""
    written = answer(capsys, str(folder))
    (folder / "worked.csv").write_text(WORKED)
    learned = answer(capsys, str(folder))
    (trade,) = learned["past"]
    assert (trade["trade"], trade["jobs"]) == ("panel", 1)
    assert 1 < trade["factor"] < 20 / (38 / 6)
    assert trade["factor_90"][0] < trade["factor"] < trade["factor_90"][1]
    assert learned["promise"]["p95"] > written["promise"]["p95"]
    assert "past" not in written
    assert answer(capsys, str(folder), "--no-past") == written
    assert code("plan", str(folder)) == 0
    assert "your past says" in capsys.readouterr().out
    assert code("plan", str(folder), "--no-past") == 0
    assert "your past says" not in capsys.readouterr().out


def test_ctrl_c_takes_the_best_plan_so_far(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def interrupted(*given: Any, **named: Any) -> Plan:
        signal.raise_signal(signal.SIGINT)
        return plan_work(*given, **named)

    heard = signal.getsignal(signal.SIGINT)
    monkeypatch.setattr("asfound.cli.plan.plan_work", interrupted)
    assert code("plan", str(folder), "--json") == 0
    out, err = capsys.readouterr()
    told = json.loads(out)
    assert told["stopped"] is True
    assert [task["task"] for task in told["tasks"]] == ["strip", "paint", "lift"]
    assert "stopping with the best plan so far" in err
    assert signal.getsignal(signal.SIGINT) is heard


def test_a_second_ctrl_c_ends_without_a_plan(
    folder: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    request: pytest.FixtureRequest,
) -> None:
    def twice(*given: Any, **named: Any) -> Plan:
        signal.raise_signal(signal.SIGINT)
        signal.raise_signal(signal.SIGINT)
        return plan_work(*given, **named)

    monkeypatch.setattr("asfound.cli.plan.plan_work", twice)
    # A shell that begins its work behind it lets the work ignore the first sign; here it is heard.
    heard = signal.signal(signal.SIGINT, signal.default_int_handler)
    request.addfinalizer(lambda: signal.signal(signal.SIGINT, heard))
    assert code("plan", str(folder), "--json") == 130
    assert capsys.readouterr().out == ""
