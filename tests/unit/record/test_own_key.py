"""The secret key: one for all processes of an installation, whole, and its user's alone."""

from __future__ import annotations

import stat
import subprocess
import sys
import threading
from pathlib import Path

import pytest
from django.core.exceptions import ImproperlyConfigured

from asfound import own_key as own_key_module
from asfound.own_key import own_key


def test_a_key_is_made_once(tmp_path: Path) -> None:
    place = tmp_path / "secret-key"
    first = own_key(place)
    assert len(first) >= 64
    assert own_key(place) == first
    assert stat.S_IMODE(place.stat().st_mode) == 0o600
    assert [entry.name for entry in tmp_path.iterdir()] == ["secret-key"]


def test_who_starts_second_takes_the_key_of_the_first(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Another process makes its key between the look and the link."""
    place = tmp_path / "secret-key"
    link = own_key_module.os.link

    def late(draft: Path, target: Path) -> None:
        target.write_text("k" * 64)
        link(draft, target)

    monkeypatch.setattr(own_key_module.os, "link", late)
    assert own_key(place) == "k" * 64
    assert [entry.name for entry in tmp_path.iterdir()] == ["secret-key"]


def test_many_threads_at_once_get_one_key(tmp_path: Path) -> None:
    start, keys = threading.Barrier(8), []

    def begin() -> None:
        start.wait()
        keys.append(own_key(tmp_path / "secret-key"))

    threads = [threading.Thread(target=begin) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(keys) == 8
    assert len(set(keys)) == 1


def test_two_processes_at_once_get_one_key(tmp_path: Path) -> None:
    code = "from pathlib import Path; from asfound.own_key import own_key; "
    code += f"print(own_key(Path({str(tmp_path / 'secret-key')!r})))"
    command = [sys.executable, "-W", "error", "-c", code]
    started = [
        subprocess.Popen(command, env={"PYTHONPATH": "src"}, stdout=subprocess.PIPE, text=True)
        for _ in range(3)
    ]
    told = {process.communicate()[0].strip() for process in started}
    assert [process.returncode for process in started] == [0, 0, 0]
    assert len(told) == 1
    assert len(told.pop()) >= 64


@pytest.mark.parametrize("content", ["", "\n", "short"])
def test_a_file_without_a_whole_key_signs_nothing(tmp_path: Path, content: str) -> None:
    place = tmp_path / "secret-key"
    place.write_text(content)
    with pytest.raises(ImproperlyConfigured, match="Delete the file"):
        own_key(place)
