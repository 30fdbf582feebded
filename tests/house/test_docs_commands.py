"""The commands of the docs run, in the order of their page, on the files the page shows."""

from __future__ import annotations

import os
import shutil
import subprocess
from pathlib import Path

import pytest
from tests.house.pages_of_docs import FIRST_DAY, ROOT, run_page

PAGES = sorted(
    page
    for kind in ("tutorial", "how-to")
    for page in (ROOT / "docs" / kind).glob("*.md")
    if "```sh\n./asfound " in page.read_text(encoding="utf-8")
)


def test_the_pages_for_beginners_are_among_them() -> None:
    assert {"first-day.md", "survey-in-a-spreadsheet.md"} <= {page.name for page in PAGES}


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A home that was opened once: its tables take seconds to make."""
    home = tmp_path_factory.mktemp("opened")
    told = subprocess.run(
        [ROOT / "asfound", "cars"], env={**os.environ, "ASFOUND_HOME": str(home)}, check=False
    )
    assert told.returncode == 0
    return home


@pytest.mark.parametrize("page", [p for p in PAGES if p != FIRST_DAY], ids=lambda page: page.name)
def test_commands_of_the_page_run(page: Path, tmp_path: Path, opened: Path) -> None:
    shutil.copytree(opened, tmp_path / "var")
    run_page(page, tmp_path)
