"""The wheel holds everything the program needs and gives the same command."""

from __future__ import annotations

import configparser
import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "docs" / "examples" / "barn-find"


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(place)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (wheel,) = place.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(place / "site")
    return place / "site"


def in_wheel(site: Path, home: Path, *command: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, *command],
        cwd=home,
        env={**os.environ, "PYTHONPATH": str(site), "ASFOUND_HOME": str(home / "home")},
        capture_output=True,
        text=True,
        check=False,
    )


def test_the_command_runs_from_the_wheel(unpacked: Path, tmp_path: Path) -> None:
    (entry_points,) = unpacked.glob("*.dist-info/entry_points.txt")
    scripts = configparser.ConfigParser()
    scripts.read(entry_points)
    module, function = scripts["console_scripts"]["asfound"].split(":")
    script = f"import sys; from {module} import {function}; sys.argv[0] = 'asfound'; {function}()"
    ran = in_wheel(unpacked, tmp_path, "-c", script, "check", str(EXAMPLE))
    assert ran.returncode == 0, ran.stderr
    assert "no fault found" in ran.stdout


def test_database_pages_and_dossier_come_with_the_wheel(unpacked: Path, tmp_path: Path) -> None:
    loaded = in_wheel(unpacked, tmp_path, "-m", "asfound", "load", str(EXAMPLE))
    assert loaded.returncode == 0, loaded.stderr
    out = tmp_path / "dossier.pdf"
    ran = in_wheel(unpacked, tmp_path, "-m", "asfound", "dossier", str(EXAMPLE), "--out", str(out))
    assert ran.returncode == 0, ran.stderr
    assert out.read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize("kind", ["*.html", "*.css", "*.js", "*.typ"])
def test_every_file_of_the_source_is_in_the_wheel(unpacked: Path, kind: str) -> None:
    source = ROOT / "src"
    wanted = {path.relative_to(source) for path in source.rglob(kind)}
    assert wanted
    assert {path.relative_to(unpacked) for path in unpacked.rglob(kind)} == wanted
