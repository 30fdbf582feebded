"""``asfound plan`` over several folders: one set of people and bays, each car with its promise."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from tests.unit.cli.asked import code
from tests.unit.cli.test_plan import WORKED, change, folder

__all__ = ["folder"]


@pytest.fixture
def two(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    shop = tmp_path_factory.mktemp("shop")
    cars = shop / "grey", shop / "red"
    for car in cars:
        shutil.copytree(folder, car)
    return cars


def answer(capsys: pytest.CaptureFixture[str], *arguments: str) -> dict[str, Any]:
    assert code("plan", *arguments, "--json") == 0
    result: dict[str, Any] = json.loads(capsys.readouterr().out)
    return result


def test_two_cars_share_people_and_bays(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    result = answer(capsys, *map(str, two), "--priority", "red=3")
    assert [(t["car"], t["task"]) for t in result["tasks"] if t["task"] == "paint"] == [
        ("red", "paint"),
        ("grey", "paint"),
    ]
    spans = [(t["start"], t["end"]) for t in result["tasks"] if t["bay"] == "booth"]
    assert spans[0][1] <= spans[1][0]  # one booth
    assert [car["car"] for car in result["cars"]] == ["grey", "red"]
    finishes = {car["car"]: car["finish"] for car in result["cars"]}
    assert finishes["red"] < finishes["grey"] == result["finish"]
    for car in result["cars"]:
        days = list(car["promise"].values())
        assert days == sorted(days)
        assert days[2] <= result["promise"]["p95"]


def test_words_name_each_car(two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]) -> None:
    assert code("plan", *map(str, two)) == 0
    out = capsys.readouterr().out
    assert "red/paint" in out
    assert "priority" in out


def test_what_differs_between_folders_is_named(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    change(two[1], "people.csv", "Ann,panel,8", "Ann,panel,6")
    assert code("plan", *map(str, two), "--json") == 3
    told = capsys.readouterr().err
    assert "red/people.csv, row 2: hours_per_day is '6'" in told
    assert "has '8' there in grey" in told


def test_absences_and_closed_days_of_all_folders_count(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    change(two[1], "people.csv", "Ann,panel,8,,", "Ann,panel,8,,2026-03-02/2026-03-06")
    change(two[1], "bays.csv", "bay,count", "bay,count,closed")
    change(two[1], "bays.csv", "booth,1", "booth,1,2026-03-09/2026-03-13")
    tasks = answer(capsys, *map(str, two))["tasks"]
    assert all("Ann" not in t["people"] or t["start"] >= "2026-03-09" for t in tasks)
    assert all(
        t["end"] <= "2026-03-09" or t["start"] >= "2026-03-14" for t in tasks if t["bay"] == "booth"
    )


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (("--priority", "blue=2"), "no folder is called 'blue'"),
        (("--priority", "red=none"), "give a number above 0"),
        (("--priority", "red=-1"), "give a number above 0"),
    ],
)
def test_wrong_priorities_are_wrong_use(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str], more: tuple[str, ...], told: str
) -> None:
    assert code("plan", *map(str, two), *more) == 2
    assert told in capsys.readouterr().err


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ("booth,1", "booth,1,2026-03-09/..", "booth is closed for ever"),
        ("booth,1", "booth,1,soon", "each time in which a place is closed"),
    ],
)
def test_closed_days_that_are_none_are_told(
    folder: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, told: str
) -> None:
    change(folder, "bays.csv", "bay,count", "bay,count,closed")
    change(folder, "bays.csv", old, new)
    assert code("plan", str(folder), "--json") == 3
    assert told in capsys.readouterr().err


def test_one_car_s_finished_work_is_learned_for_the_other_unless_it_is_left_out(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    (two[0] / "worked.csv").write_text(WORKED)
    learned = answer(capsys, *map(str, two))
    written = answer(capsys, *map(str, two), "--no-past")
    assert [one["trade"] for one in learned["past"]] == ["panel"]
    assert "past" not in written
    late, early = ({c["car"]: c["promise"]["p95"] for c in r["cars"]} for r in (learned, written))
    assert late["red"] > early["red"]


def test_each_car_says_what_makes_it_late_and_what_it_hangs_on(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    for car in two:
        change(car, "tasks.csv", "6,8,12", "6,8,60")
    result = answer(capsys, *map(str, two), "--priority", "red=3")
    red, grey = sorted(result["cars"], key=lambda car: car["finish"])
    assert {"task", "car", "days_earlier"} <= set(red["late_because"][0])
    last = grey["hangs_on"][-1]
    assert (last["task"], last["waits_for"], last["before"]["task"]) == ("lift", "waiting", "paint")
    painted = grey["hangs_on"][-2]  # Bo paints the red one first, in the one booth
    assert (painted["waits_for"], painted["of"]) == ("person", "Bo")
    assert painted["before"] == {"car": "red", "task": "paint"}
    assert code("plan", *map(str, two)) == 0
    told = capsys.readouterr().out
    assert "What makes red late" in told
    assert "What makes it late" not in told


def test_cars_without_people_take_those_of_the_shop_s_folder(
    two: tuple[Path, Path], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shop = tmp_path / "workshop"
    shop.mkdir()
    closed = "days,why\n2026-03-02/2026-03-06,stock-taking\n"
    (shop / "closed_days.csv").write_text(closed)
    for table in ("people", "bays"):
        text = (two[0] / f"{table}.csv").read_text()
        (shop / f"{table}.csv").write_text(text)
        for car in two:
            (car / f"{table}.csv").unlink()
    assert code("plan", *map(str, two), "--json") == 3
    assert "has the trade" in capsys.readouterr().err
    tasks = answer(capsys, *map(str, two), "--shop", str(shop))["tasks"]
    assert {person for task in tasks for person in task["people"]} == {"Ann", "Bo"}
    assert min(task["start"] for task in tasks) >= "2026-03-09"
    change(shop, "people.csv", "Ann,panel", "Ann,glass")
    assert code("plan", str(two[0]), "--shop", str(shop), "--json") == 3
    assert "in the workshop's table of people" in capsys.readouterr().err


def test_a_shop_closed_for_ever_is_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "closed_days.csv").write_text("days\n2026-03-02/..\n")
    assert code("plan", str(folder), "--json") == 3
    assert "the workshop is closed for ever" in capsys.readouterr().err
