"""The docs are what the program says, and they build without a warning."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

from tests.house.commands_page import commands_page

from asfound.exchange import tables_markdown

ROOT = Path(__file__).parents[2]


def test_reference_of_the_car_folder_is_what_the_program_prints() -> None:
    page = ROOT / "docs" / "reference" / "car-folder.md"
    assert page.read_text() == tables_markdown(), f"run: ./asfound tables > {page}"


def test_reference_of_the_commands_is_what_they_say_of_themselves() -> None:
    page = ROOT / "docs" / "reference" / "commands.md"
    assert page.read_text() == commands_page(), "run: see tests/house/commands_page.py"


def test_docs_build_with_warnings_as_errors(tmp_path: Path) -> None:
    built = subprocess.run(
        [
            sys.executable,
            "-m",
            "sphinx",
            "-W",
            "-q",
            "-b",
            "html",
            str(ROOT / "docs"),
            str(tmp_path),
        ],
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        capture_output=True,
        text=True,
        check=False,
    )
    assert built.returncode == 0, built.stderr
    assert (tmp_path / "index.html").exists()
