"""Two invented cars of invented marques: every name, number and reading in them is made up."""

from __future__ import annotations

from pathlib import Path

from asfound.demo.car import demo_folder
from asfound.demo.days import AS_WRITTEN, Days
from asfound.demo.small_job import small_job_folder
from asfound.exchange import write_folder

__all__ = ["demo_folder", "small_job_folder", "write", "write_small_job"]


def write(path: Path, *, seed: int = 1, days: Days = AS_WRITTEN) -> None:
    """Write the invented car as a car folder; ``path`` must not exist yet or be empty."""
    write_folder(demo_folder(seed, days=days), path)


def write_small_job(path: Path, *, days: Days = AS_WRITTEN) -> None:
    """Write the second invented car, which is there for a small job."""
    write_folder(small_job_folder(days=days), path)
