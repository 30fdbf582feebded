"""The commands of the docs run, in the order of their page, on the files the page shows."""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PAGES = sorted(
    page
    for kind in ("tutorial", "how-to")
    for page in (ROOT / "docs" / kind).glob("*.md")
    if "```sh\n./asfound " in page.read_text(encoding="utf-8")
)
FILE_SHOWN = re.compile(r"```\{code-block\} \w+\n:caption: (\S+)\n((?:.*\n)*?)```")
COMMANDS = re.compile(r"```sh\n((?:.*\n)*?)```")


def test_the_pages_for_beginners_are_among_them() -> None:
    assert {"first-day.md", "survey-in-a-spreadsheet.md"} <= {page.name for page in PAGES}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_commands_of_the_page_run(page: Path, tmp_path: Path) -> None:
    text = page.read_text(encoding="utf-8")
    for name, content in FILE_SHOWN.findall(text):
        (tmp_path / name).parent.mkdir(exist_ok=True)
        (tmp_path / name).write_text(content, encoding="utf-8")
    program = tmp_path / "asfound"
    program.write_text(f'#!/bin/sh\nexec "{ROOT / "asfound"}" "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    for block in COMMANDS.findall(text):
        ran = subprocess.run(
            ["/bin/sh", "-eu", "-c", block],
            cwd=tmp_path,
            env={**os.environ, "ASFOUND_HOME": str(tmp_path / "var")},
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, f"{block}\n{ran.stdout}\n{ran.stderr}"
