"""Every invariant of ARCHITECTURE.md names what holds it, and that is there."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

import pytest

from asfound.__main__ import COMMANDS

ROOT = Path(__file__).parents[2]
TEXT = (ROOT / "ARCHITECTURE.md").read_text(encoding="utf-8")
INVARIANTS = [
    " ".join(part.split()) for part in re.findall(r"- Invariant:([^#]*?)(?=\n- |\Z)", TEXT)
]


def test_there_are_invariants() -> None:
    assert len(INVARIANTS) == TEXT.count("Invariant:")
    assert INVARIANTS


@pytest.mark.parametrize("invariant", INVARIANTS)
def test_what_holds_an_invariant_is_there(invariant: str) -> None:
    holders = [name for name in re.findall(r"`([^`]+)`", invariant) if "/" in name or "." in name]
    assert holders, "an invariant names what holds it"
    for name in holders:
        place = ROOT / name
        assert place.exists(), name
        if place.is_dir():
            assert any(place.rglob("test_*.py")), f"{name} holds no test"


@pytest.mark.parametrize(
    ("room", "first"), re.findall(r"^\| `(\w+)` \|.*\| (.+) \|$", TEXT, flags=re.M)
)
def test_a_room_of_the_code_map_is_there(room: str, first: str) -> None:
    place = ROOT / "src" / "asfound" / room
    assert (place / "__init__.py").is_file()
    assert [name for name in re.findall(r"`([^`]+)`", first) if not (place / name).exists()] == []


def test_libraries_that_take_long_are_loaded_when_they_are_needed() -> None:
    slow = {"ortools", "openpyxl", "edtf", "coloraide", "skimage"}
    slow |= {"scipy.interpolate", "scipy.optimize"}
    places = [place for _, place in COMMANDS.values()]
    asked = (
        f"import pkgutil, sys; [pkgutil.resolve_name(place) for place in {places}]\n"
        f"print(*{slow} & set(sys.modules))"
    )
    loaded = subprocess.check_output([sys.executable, "-c", asked], cwd=ROOT / "src", text=True)
    assert loaded.split() == []


def test_every_drawing_has_one_head() -> None:
    heads = [
        place.name
        for place in (ROOT / "src" / "asfound").rglob("*.py")
        if re.search(r'^\s*"svg",$|"<svg', place.read_text(encoding="utf-8"), re.M)
    ]
    assert heads == ["svg.py"]
