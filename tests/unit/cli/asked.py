"""The command line, asked as a shell asks it."""

from __future__ import annotations

from pathlib import Path

import pytest

from asfound.__main__ import app
from asfound.cli.app import run


def code(*arguments: str) -> int:
    """What the program ends with."""
    with pytest.raises(SystemExit) as left:
        run(app, list(arguments))
    return int(left.value.code or 0)


def change(folder: Path, file: str, old: str, new: str) -> None:
    """Write other words in the place of some that stand in a file."""
    text = (folder / file).read_text()
    assert old in text
    (folder / file).write_text(text.replace(old, new))
