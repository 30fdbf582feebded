"""The ledger of a folder: parts, finish, and the workshop's own rules."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from asfound.__main__ import app
from asfound.demo.written import Rows, sheet
from asfound.exchange import write_folder
from asfound.record.derived import found_ledger
from asfound.record.folder import CarFolder
from asfound.record.results.ledger import ledger_json

PARTS = [
    {"part": "engine unit", "name": "Engine", "state": "original and in place"},
    {
        "part": "block",
        "name": "Block",
        "parent": "engine unit",
        "state": "original and in place",
        "significance": "5",
    },
    {
        "part": "pump",
        "name": "Pump",
        "parent": "engine unit",
        "state": "later",
        "significance": "1",
    },
    {"part": "mats", "name": "Mats", "state": "missing", "significance": "2"},
    {"part": "old pump", "name": "Pump", "fate": "replaced", "fate_reason": "worn"},
]
EVIDENCE = [
    {
        "subject": "block",
        "statement": "fitted when built",
        "alternative": "fitted later",
        "item": "number",
        "lr": "50",
        "basis": "data",
    }
]


def car(**tables: Rows) -> CarFolder:
    rows = {"parts": PARTS, "evidence": EVIDENCE, **tables}
    return CarFolder(sheets={name: sheet(table) for name, table in rows.items()})


def states(found: CarFolder) -> dict[str, str]:
    return {piece.name: piece.decided.state for piece in found_ledger(found).parts}


def test_assemblies_and_what_is_gone_are_not_counted_beside_their_parts() -> None:
    assert states(car()) == {"block": "O", "pump": "U", "mats": "M"}
    told = ledger_json(found_ledger(car()))
    assert told["by_part"]["shares"]["O"] == pytest.approx(1 / 3, abs=1e-6)
    assert told["by_significance"]["shares"] == {
        "O": 0.625,
        "P": 0,
        "L": 0,
        "R": 0,
        "U": 0.125,
        "M": 0.25,
    }
    assert told["parts"][1]["written"] == "later"


def test_the_table_of_rules_takes_the_place_of_those_supplied() -> None:
    rules = [
        {
            "order": "2",
            "statement": "as written",
            "favours": "statement",
            "least_lr": "1",
            "state": "U",
        },
        {
            "order": "1",
            "statement": "fitted when built",
            "favours": "statement",
            "least_lr": "20",
            "state": "P",
        },
    ]
    assert states(car(state_rules=rules)) == {"block": "P", "pump": "L", "mats": "M"}


def test_finish_by_area() -> None:
    panels = [
        {
            "panel": name,
            "section": "body",
            "substrate": "steel",
            "outline_wkt": f"POLYGON ((0 0, {width} 0, {width} 500, 0 500, 0 0))",
        }
        for name, width in (("roof", 1500), ("door", 500))
    ]
    claim = {**EVIDENCE[0], "statement": "undisturbed since built", "alternative": "later work"}
    told = ledger_json(
        found_ledger(car(panels=panels, evidence=[{**claim, "subject": "Roof", "lr": "30"}]))
    )
    assert told["by_area_of_finish"]["original"] == 0.75
    assert told["by_area_of_finish"]["not_known"] == 0.25
    assert told["finish"][0]["rule"] == "O: “undisturbed since built” has support of 10 or more"


def test_the_command(tmp_path: Path) -> None:
    write_folder(car(), tmp_path / "car")
    place = str(tmp_path / "car")
    told = json.loads(CliRunner().invoke(app, ["ledger", place, "--json"]).stdout)
    assert told["by_part"]["pieces_n"] == 3
    words = CliRunner().invoke(app, ["ledger", place]).stdout
    assert "not known" in words
    assert "moderate support for fitted when built" in words
    assert "The first of these that holds decides" in words
