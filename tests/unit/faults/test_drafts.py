"""What is half-written: gone when its writer fails, gone at the next start when it was killed."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.db import connection

from asfound.exchange.photographs import read_in
from asfound.record.draft import clear_abandoned, draft_file, draft_folder, is_anything_held
from asfound.record.faults import Fault
from asfound.record.shelf import on_shelf, place_of, shelf_folder, shelve

_KILLED = """
import os, signal, sys
from pathlib import Path
from asfound.record.draft import draft_file, draft_folder
folder = Path(sys.argv[1])
with draft_file(folder) as (path, sink), draft_folder(folder):
    sink.write(b"half of it"); sink.flush()
    os.kill(os.getpid(), signal.SIGKILL)
"""


def test_what_a_killed_process_left_is_told_from_what_is_being_written(tmp_path: Path) -> None:
    done = subprocess.run(
        [sys.executable, "-c", _KILLED, str(tmp_path)], check=False, env={"PYTHONPATH": "src"}
    )
    assert done.returncode == -9
    assert len(list(tmp_path.iterdir())) == 2
    with draft_file(tmp_path) as (mine, _), draft_folder(tmp_path) as my_folder:
        assert clear_abandoned(tmp_path) == 2
        assert {*tmp_path.iterdir()} == {mine, my_folder}
        assert is_anything_held(tmp_path)
    assert not is_anything_held(tmp_path)
    assert list(tmp_path.iterdir()) == []


class _BreaksOff(io.RawIOBase):
    """A stream that gives some bytes, and then the network is gone."""

    def __init__(self) -> None:
        self.given = False

    def read(self, size: int = -1) -> bytes:
        if self.given:
            raise ConnectionResetError
        self.given = True
        return b"first bytes"


def _everything_below(folder: Path) -> set[Path]:
    return {path for path in folder.rglob("*") if path.is_file()}


def test_an_upload_that_breaks_off_leaves_nothing() -> None:
    before = _everything_below(shelf_folder())
    with pytest.raises(ConnectionResetError):
        shelve(_BreaksOff())
    assert _everything_below(shelf_folder()) == before


def test_nothing_of_a_refused_photograph_stays() -> None:
    bytes_of_no_photograph = b"%PDF-1.7 is a document, not a photograph"
    before = _everything_below(settings.ASFOUND_HOME)
    assert isinstance(read_in("paper.jpg", io.BytesIO(bytes_of_no_photograph)), Fault)
    assert _everything_below(settings.ASFOUND_HOME) == before


def test_bytes_and_their_name_are_on_the_disk_before_anything_is_acknowledged(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    # A home of its own: its folders are new, whatever other tests have shelved.
    monkeypatch.setattr(settings, "ASFOUND_HOME", tmp_path)
    content = b"a photograph of its own"
    place = place_of(hashlib.sha256(content).hexdigest())
    synced: list[str] = []
    real = os.fsync

    def noted(descriptor: int) -> None:
        synced.append(os.readlink(f"/proc/self/fd/{descriptor}"))
        real(descriptor)

    monkeypatch.setattr(os, "fsync", noted)
    shelve(io.BytesIO(content))
    assert Path(synced[0]).parent == shelf_folder()
    assert Path(synced[0]).name.startswith(".draft-")
    assert [Path(path) for path in synced[1:]] == [place.parent, shelf_folder()]
    assert (place.parent.name + place.name, len(content)) in on_shelf(shelf_folder())


@pytest.mark.django_db
def test_a_commit_waits_for_the_disk() -> None:
    """SQLite's manual: with WAL, a commit under FULL (2) survives a loss of power."""
    if connection.vendor != "sqlite":
        pytest.skip("PostgreSQL waits for its disk unless it is told not to")
    with connection.cursor() as cursor:
        assert cursor.execute("PRAGMA synchronous").fetchone()[0] == 2
        assert cursor.execute("PRAGMA journal_mode").fetchone()[0] == "wal"
