"""``asfound tasks``: what signed decisions ask for, and that it can be planned."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from tests.unit.cli.asked import code

SUBJECTS = """subject,weight,min_grade,zone,locked_option
heater,2,0,,mend
wing,3,0,,respray
dash,5,0,,leave
seat,1,0,,
"""
OPTIONS = """subject,option,treatment,kept,grade,cost,hours_mechanic,hours_painter
heater,mend,overhaul,0.8,3,50,4,0
wing,respray,refinish,0.1,5,900,2,20
dash,leave,leave as found,1,2,0,0,0
seat,clean,clean,0.9,3,10,1,0
"""
PARTS = "part,name\nheater,Heater\ndash,Dashboard\ntrim,Trim\ncowl,Cowl\n"
JOINTS = """part,comes_off_after,way
heater,dash,inside
heater,trim,below
trim,cowl,
"""
REMOVALS = "part,fragile,hours,people,trade\ndash,5,2,2,painter\ncowl,1,1,2,mechanic\n"
REBUILD = "before,after,why\ncowl,trim,alignment\n"
PEOPLE = "person,trades,hours_per_day\nAnn,mechanic,8\nBo,painter;mechanic,8\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    home = tmp_path / "car"
    home.mkdir()
    for name, text in {
        "subjects": SUBJECTS,
        "options": OPTIONS,
        "parts": PARTS,
        "joints": JOINTS,
        "removals": REMOVALS,
        "rebuild_links": REBUILD,
        "people": PEOPLE,
    }.items():
        (home / f"{name}.csv").write_text(text)
    return home


def test_signed_decisions_become_tasks_with_what_comes_off_before(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("tasks", str(folder), "--json") == 0
    made = json.loads(capsys.readouterr().out)
    tasks = {t["task"]: t for t in made["tasks"]}
    assert set(tasks) == {
        "heater: overhaul",
        "wing: refinish (mechanic)",
        "wing: refinish (painter)",
        *(f"{part}: {word}" for part in ("cowl", "trim", "heater") for word in ("off", "on")),
    }
    quoted = tasks["wing: refinish (painter)"]
    assert [quoted[f"hours_{p}"] for p in ("low", "likely", "high")] == ["15", "20", "40"]
    assert (tasks["cowl: off"]["trade"], tasks["cowl: off"]["people"]) == ("mechanic", "2")
    links = {(k["before"], k["after"]) for k in made["task_links"]}
    assert links == {
        ("wing: refinish (mechanic)", "wing: refinish (painter)"),
        ("cowl: off", "trim: off"),
        ("trim: off", "heater: off"),
        ("heater: off", "heater: overhaul"),
        ("heater: overhaul", "heater: on"),
        ("cowl: off", "cowl: on"),
        ("trim: off", "trim: on"),
        ("heater: on", "trim: on"),
        ("cowl: on", "trim: on"),  # the rebuild asks for it, against the order of stripping
    }


def test_what_is_off_already_is_only_put_on_again(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "removals.csv").write_text("part,fragile,off_on\ndash,5,\ncowl,1,2026-03-02\n")
    assert code("tasks", str(folder), "--json") == 0
    made = json.loads(capsys.readouterr().out)
    names = {t["task"] for t in made["tasks"]}
    links = {(k["before"], k["after"]) for k in made["task_links"]}
    assert names >= {"cowl: on", "trim: off", "trim: on", "heater: off", "heater: on"}
    assert "cowl: off" not in names
    assert {end for link in links for end in link} <= names
    assert ("cowl: on", "trim: on") in links


def test_the_tasks_go_into_a_folder_that_can_be_planned(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("tasks", str(folder), "--into", str(tmp_path / "new")) == 0
    assert "9 tasks added" in capsys.readouterr().err
    assert code("plan", str(tmp_path / "new"), "--json") == 0
    plan = json.loads(capsys.readouterr().out)
    at = {t["task"]: t for t in plan["tasks"]}
    assert at["heater: overhaul"]["end"] <= at["heater: on"]["start"]
    assert code("tasks", str(folder), "--into", str(tmp_path / "new")) == 2
    assert code("tasks", str(tmp_path / "new"), "--json") == 0
    again = json.loads(capsys.readouterr().out)
    assert len(again["tasks"]) == 9  # none is made twice


def test_rows_that_people_wrote_stay(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    head = "task,name,trade,hours_low,hours_likely,hours_high\n"
    own = "heater: overhaul,Ours,painter,1,1,1\nhold,Owner sees it,painter,0,0,0\n"
    (folder / "tasks.csv").write_text(head + own)
    assert code("tasks", str(folder), "--json") == 0
    made = json.loads(capsys.readouterr().out)
    assert [t["name"] for t in made["tasks"][:2]] == ["Ours", "Owner sees it"]
    assert [t["task"] for t in made["tasks"]].count("heater: overhaul") == 1


def test_without_a_signed_decision_there_is_nothing_to_make(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (folder / "subjects.csv").unlink()
    assert code("tasks", str(folder)) == 3
    assert "no decision is signed" in capsys.readouterr().err
