"""The command line, asked as a shell asks it."""

from __future__ import annotations

import pytest

from asfound.__main__ import app
from asfound.cli.app import run


def code(*arguments: str) -> int:
    """What the program ends with."""
    with pytest.raises(SystemExit) as left:
        run(app, list(arguments))
    return int(left.value.code or 0)
