"""The README shows what the program prints."""

from __future__ import annotations

import os
import re
import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text()
EXAMPLES = re.findall(r"```console\n\$ \./asfound (.+)\n((?:.*\n)*?)```", README)


def test_there_are_examples() -> None:
    assert len(EXAMPLES) >= 2


@pytest.mark.parametrize(("command", "shown"), EXAMPLES, ids=[c for c, _ in EXAMPLES])
def test_example_prints_what_the_readme_shows(command: str, shown: str) -> None:
    ran = subprocess.run(
        [str(ROOT / "asfound"), *command.split()],
        cwd=ROOT,
        env={**os.environ, "COLUMNS": "100"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr
    assert ran.stdout == shown


def test_every_link_of_the_readme_leads_somewhere() -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", README):
        assert (ROOT / target).exists(), target
