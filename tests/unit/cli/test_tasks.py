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


def _more(folder: Path, name: str, rows: str) -> None:
    with (folder / f"{name}.csv").open("a") as file:
        file.write(rows)


def _tasks_of(made: dict[str, list[dict[str, str]]]) -> set[str]:
    return {t["task"] for t in made["tasks"]}


def test_what_is_off_already_is_counted_and_opens_its_way(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    rows = "part,fragile,off_on\ndash,5,2026-03-02\nseat,1,2026-03-02\n"
    (folder / "removals.csv").write_text(rows)
    _more(folder, "parts", "seat,Seat\n")
    assert code("tasks", str(folder), "--json") == 0
    out, err = capsys.readouterr()
    made = json.loads(out)
    handled = {"heater: off", "heater: on", "dash: on"}  # the dash is off: that way costs nothing
    assert {t for t in _tasks_of(made) if t.endswith((": on", ": off"))} == handled
    assert made["off_already"] == ["dash", "seat"]
    assert "2 pieces are off already, so no task takes them off: dash, seat." in err
    assert made["stays_off"] == ["seat"]
    assert "no task puts them on again either: seat." in err
    links = {(k["before"], k["after"]) for k in made["task_links"]}
    assert ("heater: on", "dash: on") in links


def test_a_ring_holds_back_only_what_is_behind_it(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _more(folder, "joints", "cowl,trim,\ndash,heater,inside\n")  # the heater is behind both
    _more(folder, "subjects", "bumper,1,0,,straighten\n")
    _more(folder, "options", "bumper,straighten,repair,0.9,3,10,3,0\n")
    _more(folder, "parts", "bumper,Bumper\nbracket,Bracket\n")
    _more(folder, "joints", "bumper,bracket,\n")
    assert code("tasks", str(folder), "--json") == 0
    out, err = capsys.readouterr()
    made = json.loads(out)
    assert _tasks_of(made) == {
        "wing: refinish (mechanic)",
        "wing: refinish (painter)",
        "bumper: repair",
        *(f"{part}: {word}" for part in ("bumper", "bracket") for word in ("off", "on")),
    }
    ends = {end for link in made["task_links"] for end in (link["before"], link["after"])}
    assert ends <= _tasks_of(made)
    assert [held["subject"] for held in made["held_back"]] == ["heater"]
    assert "No new task for the work on heater: it cannot come off" in err
    assert "joints.csv, row 5" in err  # cowl after trim, which is after cowl
    assert "(rows 4, 5)" in err
    assert "Doubt row 5 first (cowl after trim)" in err


def test_a_ring_before_everything_is_at_fault(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _more(folder, "joints", "cowl,trim,\ndash,heater,\n")
    subjects = (folder / "subjects.csv").read_text().replace(",respray", ",").replace(",leave", ",")
    (folder / "subjects.csv").write_text(subjects)
    assert code("tasks", str(folder)) == 3
    assert "wait for each other" in capsys.readouterr().err


def test_work_on_evidence_behind_a_ring_holds_back_what_would_destroy_it(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _more(folder, "joints", "cowl,trim,\ndash,heater,\n")
    _more(folder, "subjects", "bumper,1,0,,straighten\n")
    _more(folder, "options", "bumper,straighten,repair,0.9,3,10,3,0\n")
    waits = "kind,subject,option,other_subject,other_option\nwaits,wing,respray,heater,\n"
    (folder / "option_links.csv").write_text(waits)
    assert code("tasks", str(folder), "--json") == 0
    made = json.loads(capsys.readouterr().out)
    assert _tasks_of(made) == {"bumper: repair"}
    assert made["held_back"][1] == {
        "subject": "wing",
        "because": "it destroys evidence of heater, which waits",
    }


def test_a_ring_of_pieces_that_are_off_is_told_and_stops_nothing(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _more(folder, "joints", "cowl,trim,\ndash,heater,inside\n")
    (folder / "removals.csv").write_text("part,off_on\ncowl,2026-03-02\n")
    (folder / "rebuild_links.csv").unlink()
    assert code("tasks", str(folder), "--json") == 0
    out, err = capsys.readouterr()
    made = json.loads(out)
    assert made["held_back"] == []
    assert {"cowl: on", "trim: off", "trim: on", "heater: overhaul"} <= _tasks_of(made)
    links = {(k["before"], k["after"]) for k in made["task_links"]}
    assert ("trim: on", "cowl: on") in links  # the joint that still stands
    assert "wait for each other" in err


def test_what_the_rebuild_asks_in_a_ring_is_told_and_all_else_kept(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _more(folder, "rebuild_links", "trim,heater,seal\nheater,cowl,fluids\n")
    assert code("tasks", str(folder), "--json") == 0
    out, err = capsys.readouterr()
    made = json.loads(out)
    # Cowl before trim, trim before heater, heater before cowl: the last one asked is left out.
    assert made["not_kept"] == [{"before": "heater", "after": "cowl", "why": "fluids"}]
    assert "rebuild_links.csv, row 4" in err
    assert "do not put heater on before cowl" in err
    links = {(k["before"], k["after"]) for k in made["task_links"]}
    assert {("cowl: on", "trim: on"), ("trim: on", "heater: on")} <= links
