"""A home with a small record in it, made once and copied for each test."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from tests.unit.faults.homes import Home, copy_of, drop
from tests.unit.faults.nursery import Nursery


@pytest.fixture(scope="session")
def first_home(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Home]:
    """Home that others are copied from."""
    nursery = Nursery(tmp_path_factory.mktemp("programs"))
    folder = tmp_path_factory.mktemp("first") / "home"
    url = copy_of(os.environ.get("DATABASE_URL", ""), empty=True)
    yield Home(folder=folder, nursery=nursery, url=url).begin()
    nursery.close()
    drop(url)


@pytest.fixture
def new_home(first_home: Home, tmp_path: Path) -> Iterator[Callable[..., Home]]:
    """Maker of homes: with the small record, or empty."""
    made: list[Home] = []

    def make(*, empty: bool = False, folder: Path | None = None) -> Home:
        place = folder or tmp_path / f"home-{len(made)}"
        made.append(first_home.empty(place) if empty else first_home.copy(place))
        return made[-1]

    yield make
    for home in made:
        drop(home.url)
