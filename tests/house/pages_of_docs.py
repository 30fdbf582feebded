"""A page of the docs, followed: its files written, its commands run in their order."""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path

ROOT = Path(__file__).parents[2]
FIRST_DAY = ROOT / "docs" / "tutorial" / "first-day.md"
"""Its commands run where the demo was run already, in tests/unit/demo."""
FILE_SHOWN = re.compile(r"```\{code-block\} \w+\n:caption: (\S+)\n((?:.*\n)*?)```")
COMMANDS = re.compile(r"```sh\n((?:.*\n)*?)```")


def run_page(page: Path, place: Path) -> list[str]:
    """Run what the page says in that folder, with its home in ``var`` as in a clone.

    Given is what each block of commands printed.
    """
    text = page.read_text(encoding="utf-8")
    for name, content in FILE_SHOWN.findall(text):
        (place / name).parent.mkdir(exist_ok=True)
        (place / name).write_text(content, encoding="utf-8")
    program = place / "asfound"
    program.write_text(f'#!/bin/sh\nexec "{ROOT / "asfound"}" "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    printed = []
    for block in COMMANDS.findall(text):
        ran = subprocess.run(
            ["/bin/sh", "-eu", "-c", block],
            cwd=place,
            env={**os.environ, "ASFOUND_HOME": str(place / "var")},
            capture_output=True,
            text=True,
            check=False,
        )
        assert ran.returncode == 0, f"{block}\n{ran.stdout}\n{ran.stderr}"
        printed.append(ran.stdout)
    return printed
