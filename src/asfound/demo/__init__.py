"""An invented car of an invented marque: every name, number and reading in it is made up."""

from __future__ import annotations

from pathlib import Path

from asfound.demo.car import demo_folder
from asfound.exchange import write_folder

__all__ = ["demo_folder", "write"]


def write(path: Path, *, seed: int = 1) -> None:
    """Write the invented car as a car folder; ``path`` must not exist yet or be empty."""
    write_folder(demo_folder(seed), path)
