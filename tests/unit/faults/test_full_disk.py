"""A disk without room: whoever sends is told, what was kept stays, and room made is used."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from tests.unit.faults.homes import Home, Served
from tests.unit.faults.test_killed import assert_sound, photograph, sha256_of

pytestmark = pytest.mark.django_db


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A file system of its own with 8 MB."""
    place = tmp_path / "disk"
    place.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=8m", "tmpfs", str(place)],
        capture_output=True,
        check=False,
    )
    if made.returncode:
        pytest.skip("no file system may be mounted here")
    yield place
    subprocess.run(["umount", "--lazy", str(place)], check=True)


def test_a_full_disk_is_told_and_loses_nothing(
    new_home: Callable[..., Home], small_disk: Path
) -> None:
    home = new_home(folder=small_disk / "home")
    ballast = small_disk / "ballast"
    with Served(home) as server:
        kept = [photograph(n, side=300) for n in range(2)]
        assert [server.send_photo("kept.png", one)[0] for one in kept] == [200, 200]
        for room_bytes in (600_000, 100_000):  # too little for the shelf; for what is on its way
            _fill_but(ballast, room_bytes)
            status, told = server.send_photo("late.png", photograph(7, side=500))
            assert status == 507
            assert "full" in told
        _fill_but(ballast, 0)
        box, tag = home.told["places"][0][1], home.told["parts"][0][1]
        moved = server.post("/scan/", tags=tag, place=box)
        assert moved in ((302, 507) if home.url else (507,))  # PostgreSQL has a disk of its own
        assert server.ask("GET", f"/cars/{home.told['car']}/parts/")[0] == 200
        ballast.unlink()
        assert server.send_photo("late.png", photograph(7, side=500))[0] == 200
        assert server.post("/scan/", tags=tag, place=box) == 302
    told = assert_sound(home)
    assert told["photos"] == sorted(map(sha256_of, [*kept, photograph(7, side=500)]))


def _fill_but(ballast: Path, room_bytes: int) -> None:
    """Leave so much room on the disk of the ballast."""
    ballast.unlink(missing_ok=True)
    free = os.statvfs(ballast.parent).f_bavail * os.statvfs(ballast.parent).f_frsize
    try:
        ballast.write_bytes(bytes(max(free - room_bytes, 0)))
    except OSError:
        assert room_bytes == 0
