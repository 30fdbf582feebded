"""``asfound strip``: the order, the way to a piece, the picture, and what is at fault."""

from __future__ import annotations

import json
from itertools import pairwise
from pathlib import Path
from xml.etree import ElementTree

import pytest
from tests.unit.cli.asked import code

from asfound.demo.car import demo_folder
from asfound.dossier.figures.strip_layers import Tie, lay_out
from asfound.exchange import write_folder

PARTS = """part,name,mass_kg,significance
dash,Dashboard,6,5
column,Column cover,1,1
trim,Trim below the dash,1,1
heater,Heater,7,2
pump,Pump with lagging,30,2
tank,Fuel tank,12,3
"""
JOINTS = """part,comes_off_after,because,way,binds_rebuild
heater,dash,hidden by it,from inside,
heater,column,hidden by it,from below,
heater,trim,held by it,from below,
pump,heater,held by it,,
tank,pump,hidden by it,,no
"""
REMOVALS = "part,fragile,people,single_use,bench\ndash,4,2,,\npump,1,,yes,engine\ntank,1,,,\n"
REBUILD = "before,after,why\ncolumn,dash,alignment\n"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    for name, text in {
        "parts": PARTS,
        "joints": JOINTS,
        "removals": REMOVALS,
        "rebuild_links": REBUILD,
    }.items():
        (tmp_path / f"{name}.csv").write_text(text)
    return tmp_path


def test_the_way_with_the_least_risk_is_taken(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("strip", str(folder), "--to", "tank", "--json") == 0
    out, err = capsys.readouterr()
    result = json.loads(out)
    assert err == ""
    way = result["way"]
    # Two cheap covers at 0.02 · 2 each are less than a cracked veneer at 0.2 · 6.
    assert [r["part"] for r in way["first_off"]] == ["column", "trim", "heater", "pump"]
    assert way["risk"] == pytest.approx(0.04 + 0.04 + 0.06 + 0.06)
    assert way["proved"] is True


def test_sequences_marks_and_new_fixings(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert code("strip", str(folder), "--json") == 0
    result = json.loads(capsys.readouterr().out)
    order = [r["part"] for r in result["strip"]]
    assert sorted(order) == ["column", "dash", "heater", "pump", "tank", "trim"]
    assert order.index("heater") < order.index("pump") < order.index("tank")
    by_part = {r["part"]: r for r in result["strip"]}
    assert by_part["pump"]["people"] == 2  # 30 kg
    assert by_part["dash"]["people"] == 2  # as the table says
    assert any("asbestos" in text for text in by_part["pump"]["cautions"])  # lagging
    assert result["new_when_rebuilding"] == ["pump"]
    assert result["benches"] == {"engine": ["pump"]}
    back = result["rebuild"]
    assert back.index("engine") < back.index("heater")
    assert back.index("column") < back.index("dash")


def test_what_is_off_already_is_out_of_the_way(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    how = (folder / "removals.csv").read_text().splitlines()
    rows = [f"{line},{'off_on' if not i else ''}" for i, line in enumerate(how)]
    (folder / "removals.csv").write_text("\n".join([*rows, "heater,,,,,2026-11-02", ""]))
    assert code("strip", str(folder), "--to", "tank") == 0
    out = capsys.readouterr().out
    assert "To reach tank, 1 comes off first" in out
    assert "Off already:\n  heater" in out
    assert code("strip", str(folder), "--json") == 0
    told = {r["part"]: r for r in json.loads(capsys.readouterr().out)["strip"]}
    assert told["heater"]["off"] is True
    assert told["heater"]["wave"] is None
    assert (told["pump"]["wave"], told["tank"]["wave"]) == (1, 2)


def test_words_and_a_picture(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    picture = folder / "strip.svg"
    assert code("strip", str(folder), "--to", "pump", "--picture", str(picture)) == 0
    out = capsys.readouterr().out
    assert "To reach pump, 3 come off first (risk 0.140, proved least)" in out
    assert "Take care" in out
    drawing = ElementTree.fromstring(picture.read_text())
    words = ["".join(e.itertext()) for e in drawing.iter("{http://www.w3.org/2000/svg}text")]
    assert any(w.startswith("Pump with lagging (2) !") for w in words)
    assert not any(w.startswith("Dashboard") for w in words)  # it is no part of the way
    assert code("strip", str(folder), "--picture", str(picture)) == 0
    assert "Dashboard (2)" in picture.read_text()


@pytest.mark.parametrize(
    ("file", "old", "new", "told"),
    [
        ("joints.csv", "pump,heater", "heater,tank,held by it,,\npump,heater", "heater → tank"),
        ("joints.csv", "pump,heater", "pump,pump", "cannot come off after itself"),
        ("joints.csv", "pump,heater", "pump,heeter", "parts.csv has no such row"),
        ("removals.csv", "dash,4", "dash,6", "fragile must be 5 or less"),
        (
            "rebuild_links.csv",
            "column,dash,alignment",
            "column,dash,alignment\ndash,column,seal",
            "wait for each other",
        ),
    ],
)
def test_what_is_at_fault_is_told_at_its_row(
    folder: Path, capsys: pytest.CaptureFixture[str], file: str, old: str, new: str, told: str
) -> None:
    text = (folder / file).read_text()
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1))
    assert code("strip", str(folder)) == 3
    err = capsys.readouterr().err
    assert told in err
    assert ", row " in err


def test_a_part_that_no_joint_names_and_a_car_without_joints(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert code("strip", str(folder), "--to", "roof") == 2
    (folder / "joints.csv").unlink()
    assert code("strip", str(folder)) == 3
    assert "has no joint" in capsys.readouterr().err


def test_the_invented_car_comes_apart_and_goes_together(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    car = demo_folder()
    write_folder(car, tmp_path / "car")
    assert code("strip", str(tmp_path / "car"), "--json") == 0
    result = json.loads(capsys.readouterr().out)
    named = {row.text(c) for row in car.sheet("joints") for c in ("part", "comes_off_after")}
    assert named <= {r["part"] for r in result["strip"]}
    back = [p for name in result["rebuild"] for p in result["benches"].get(name, [name])]
    assert sorted(back) == sorted(r["part"] for r in result["strip"])


def test_a_line_that_follows_from_others_is_not_drawn_and_names_do_not_overlap() -> None:
    names = [f"n{i}" for i in range(40)]
    ties = [Tie(first=names[i // 2], after=names[i]) for i in range(1, 40)]
    layers = lay_out(names, [*ties, Tie(first="n0", after="n8")])
    assert {(t.first, t.after) for t, _ in layers.lines} == {(t.first, t.after) for t in ties}
    for column in layers.columns:
        tops = [(s.y - s.height / 2, s.y + s.height / 2) for s in column]
        assert all(one[1] <= two[0] + 1e-9 for one, two in pairwise(tops))
    assert all(s.y + s.height / 2 <= layers.height for c in layers.columns for s in c)
