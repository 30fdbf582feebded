"""The demo as a person starts it: in its own home, twice, with and without pages."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import urllib.request
from datetime import date, timedelta
from pathlib import Path

import pytest
from tests.house.pages_of_docs import FIRST_DAY, ROOT, run_page

from asfound.demo import demo_folder, small_job_folder
from asfound.demo.days import Days
from asfound.exchange import read_folder


def command(*arguments: str) -> list[str]:
    return [sys.executable, "-m", "asfound", *arguments]


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("clone") / "var"


def environment(home: Path) -> dict[str, str]:
    return {
        **os.environ,
        "ASFOUND_HOME": str(home),
        "PYTHONPATH": str(ROOT / "src"),
        "OPENBLAS_NUM_THREADS": "1",
    }


def run(home: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command(*arguments), env=environment(home), capture_output=True, text=True, check=False
    )


@pytest.fixture(scope="module")
def twice(home: Path) -> tuple[str, str]:
    """What the demo printed at its first and second run in one home.

    The second begins the tutorial's first day, which is followed to its end.
    """
    first = run(home, "demo", "--no-serve")
    assert first.returncode == 0, first.stderr
    second, *_ = run_page(FIRST_DAY, home.parent)
    return first.stdout, second


def passwords(text: str) -> dict[str, str]:
    return dict(re.findall(r"^ +(demo-\w+) +(\w{4}-\w{4}-\w{4}) ", text, flags=re.M))


def test_it_ends_by_itself_and_tells_what_it_found(twice: tuple[str, str]) -> None:
    first, _ = twice
    assert first.startswith("Everything here is invented")
    for words in (
        "Tessivane Meridel",
        "left front wing",
        "Look next",
        "binds",
        "Contested",
        "The plan",
    ):
        assert words in first
    assert len(first.splitlines()) < 65


def test_folder_and_dossier_lie_where_it_says(home: Path, twice: tuple[str, str]) -> None:
    _, second = twice
    assert str(home / "demo" / "car") in second
    assert str(home / "demo" / "small-job") in second
    # The demo may have begun before midnight.
    days = [Days.up_to(date.today() - timedelta(days=back)) for back in (0, 1)]
    assert read_folder(home / "demo" / "car") in [demo_folder(days=one) for one in days]
    small_jobs = [small_job_folder(days=one) for one in days]
    assert read_folder(home / "demo" / "small-job") in small_jobs
    assert (home / "demo" / "dossier.pdf").read_bytes().startswith(b"%PDF-")
    assert sorted(entry.name for entry in (home / "demo").iterdir()) == [
        "car",
        "dossier.pdf",
        "small-job",
    ]


def test_a_second_run_finds_the_same_car_and_sets_new_passwords(
    home: Path, twice: tuple[str, str]
) -> None:
    first, second = twice
    cars = run(home, "cars").stdout
    assert cars.count("Tessivane") == cars.count("Orvane") == 1
    assert (
        set(passwords(first))
        == set(passwords(second))
        == {
            "demo-head",
            "demo-trimmer",
            "demo-owner",
        }
    )
    assert not set(passwords(first).values()) & set(passwords(second).values())
    found = first.partition("Pages")[0]
    assert found == second.partition("Pages")[0]


def test_passwords_lie_nowhere_in_the_clear(home: Path, twice: tuple[str, str]) -> None:
    kept = b"".join(file.read_bytes() for file in home.rglob("*") if file.is_file())
    for text in twice:
        for password in passwords(text).values():
            assert password.encode() not in kept


def test_the_first_day_can_be_followed(home: Path, twice: tuple[str, str]) -> None:
    assert "demo --no-serve" in FIRST_DAY.read_text(encoding="utf-8")
    assert (home.parent / "my-car.pdf").read_bytes().startswith(b"%PDF-")
    assert (home.parent / "my-car-again" / "film.csv").is_file()


def test_it_serves_until_interrupted(home: Path, twice: tuple[str, str]) -> None:
    serving = subprocess.Popen(
        command("demo", "--port", "0"), env=environment(home), stdout=subprocess.PIPE, text=True
    )
    assert serving.stdout is not None
    try:
        lines = iter(serving.stdout)
        address = next(m[0] for m in (re.search(r"http://\S+", line) for line in lines) if m)
        assert address.startswith("http://127.0.0.1:")
        next(line for line in lines if "Ctrl-C" in line)
        with urllib.request.urlopen(address, timeout=30) as page:
            assert page.status == 200
            assert b"password" in page.read()
        serving.send_signal(signal.SIGINT)
        rest = "".join(lines)
        assert serving.wait(timeout=30) == 0
        assert "closed" in rest
    finally:
        if serving.poll() is None:
            serving.kill()
        serving.stdout.close()
        serving.wait()
