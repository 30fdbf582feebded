"""``asfound plan`` with what was promised: from the folder, from the command, past already."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from tests.unit.cli.asked import code
from tests.unit.cli.test_plan import folder
from tests.unit.cli.test_plan_cars import two

__all__ = ["folder", "two"]


def _told(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[dict[str, Any], str]:
    assert code("plan", *arguments, "--json") == 0
    out, err = capsys.readouterr()
    return json.loads(out), err


def _place(folder: Path, row: str) -> None:
    (folder / "in_shop.csv").write_text(f"priority,promised,at_work\n{row}\n")


def test_what_the_folders_say_is_planned_and_held_against(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    grey, red = two
    _place(grey, "1,2026-04-30,")
    _place(red, "3,2026-03-09,yes")
    told, err = _told(capsys, str(grey), str(red))
    cars = {car["car"]: car for car in told["cars"]}
    assert (cars["grey"]["priority"], cars["red"]["priority"]) == (1, 3)
    assert cars["red"]["finish"] < cars["grey"]["finish"]
    assert (cars["grey"]["promised"], cars["red"]["promised"]) == ("2026-04-30", "2026-03-09")
    # Six hours of strip and eight of paint, of which Bo gives six a day, and 24 hours to dry: the
    # likely hours end on Tuesday, 10 March.
    assert cars["red"]["kept"] < 0.5
    assert cars["grey"]["kept"] == 1
    assert err == ""


def test_the_command_goes_before_the_folder(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str]
) -> None:
    grey, red = two
    _place(grey, "5,2026-04-30,")
    told, _ = _told(
        capsys, str(grey), str(red), "--priority", "grey=0.1", "--promised", "red=2026-03-12"
    )
    cars = {car["car"]: car for car in told["cars"]}
    assert cars["grey"]["priority"] == 0.1
    assert cars["red"]["promised"] == "2026-03-12"
    assert cars["grey"]["promised"] == "2026-04-30"
    assert cars["red"]["finish"] < cars["grey"]["finish"]


def test_one_car_is_held_against_its_promise(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _place(folder, "1,2026-12,no")  # a month is kept by its last day
    told, _ = _told(capsys, str(folder))
    assert (told["promised"], told["kept"]) == ("2026-12-31", 1)
    assert code("plan", str(folder)) == 0
    assert "2026-12-31" in capsys.readouterr().out


def test_a_promise_that_is_past_is_named_and_planned_late(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    _place(folder, "1,2026-02-27,")
    told, err = _told(capsys, str(folder))
    assert told["kept"] == 0
    assert "in_shop.csv, row 2: promised is '2026-02-27'" in err
    assert "before 2026-03-02, the first day of the plan" in err
    assert "Agree on a new day with the owner" in err


@pytest.mark.parametrize(
    ("row", "told"),
    [
        ("0,,", "in_shop.csv, row 2: priority is '0'"),
        ("1,2026-05/..,", "a promise without a last day"),
        ("1,soon,", "in_shop.csv, row 2: promised is 'soon'"),
        ("1,,perhaps", "in_shop.csv, row 2: at_work is 'perhaps'"),
    ],
)
def test_a_wrong_place_is_named(
    folder: Path, capsys: pytest.CaptureFixture[str], row: str, told: str
) -> None:
    _place(folder, row)
    assert code("plan", str(folder), "--json") == 3
    out, err = capsys.readouterr()
    assert out == ""
    assert told in err


@pytest.mark.parametrize("wrong", ["blue=2026-03-12", "2026-03-12", "grey=soon"])
def test_a_wrong_promise_on_the_command_is_wrong_use(
    two: tuple[Path, Path], capsys: pytest.CaptureFixture[str], wrong: str
) -> None:
    assert code("plan", *map(str, two), "--promised", wrong) == 2
    assert "--promised" in capsys.readouterr().err
