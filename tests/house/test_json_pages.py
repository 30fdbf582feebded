"""The pages of the reference name every key that a result has."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.house.pages_of_docs import FILE_SHOWN, ROOT
from tests.unit.cli.asked import code

from asfound.demo.car import demo_folder
from asfound.exchange import write_folder
from asfound.record.tables import TABLES

NAMED_BY_A_WORKSHOP = {"options", "by_piece", "by_trade", "by_supplier", "by_change", "on_again"}
NAMED_BY_A_WORKSHOP |= {"benches", "hours", "passes_by_spot"}
"""Keys below which keys are names of pieces, people, trades."""


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented car as ``demo``, and what pages of the docs show below the pages' names."""
    place = tmp_path_factory.mktemp("folders")
    write_folder(demo_folder(), place / "demo")
    shutil.copytree(ROOT / "docs" / "examples" / "barn-find", place / "barn-find")
    for page in ("plan-the-work", "read-colour", "date-a-history", "weigh-evidence"):
        for name, content in FILE_SHOWN.findall((ROOT / f"docs/how-to/{page}.md").read_text()):
            (place / page / name).parent.mkdir(parents=True, exist_ok=True)
            (place / page / name).write_text(content)
    shutil.copytree(place / "plan-the-work" / "car", place / "plan-the-work" / "other")
    return place


@pytest.mark.parametrize(
    ("reference", "command"),
    [
        ("film-json", "film barn-find"),
        ("choice-json", "choose barn-find --points 3"),
        ("plan-json", "plan demo --seconds 0.1"),
        ("plan-json", "plan plan-the-work/car plan-the-work/other --promised car=2026-04-10"),
        ("plan-json", "strip demo --to dashboard"),
        ("plan-json", "tasks demo"),
        ("money-json", "money demo"),
        ("colour-json", "colour read-colour/car"),
        ("metal-result", "metal demo"),
        ("polish-and-gaps-json", "polish demo"),
        ("polish-and-gaps-json", "gaps demo"),
        ("evidence-json", "numbers demo"),
        ("evidence-json", "odometer demo"),
        ("evidence-json", "ledger weigh-evidence/tourer"),
        ("history-json", "history date-a-history/car"),
    ],
)
def test_every_key_is_named_on_its_page(
    reference: str,
    command: str,
    place: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(place)
    assert code(*command.split(), "--json") == 0
    text = (ROOT / "docs" / "reference" / f"{reference}.md").read_text()
    named = {word.removesuffix("[]") for word in re.findall(r"`([^`]+)`", text)}
    for table in re.findall(r"`(\w+)\.csv`", text):
        named |= {column.name for column in TABLES[table].columns}
    assert set(keys(json.loads(capsys.readouterr().out))) - named == set()


def keys(result: Any) -> Iterator[str]:
    """Keys of a result at any depth."""
    if isinstance(result, list):
        for one in result:
            yield from keys(one)
    elif isinstance(result, dict):
        for key, below in result.items():
            yield key
            named = key in NAMED_BY_A_WORKSHOP and isinstance(below, dict)
            yield from keys(list(below.values()) if named else below)
