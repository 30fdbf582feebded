"""The list of photographs and the folder of photographs must tell the same."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from tests.unit.cli.asked import code
from tests.unit.exchange.test_read import faults_of

from asfound.exchange import read_folder

HEAD = "file,sha256,subject,view,stage\n"
# FIPS 180-2, appendix B.1: the digest of the three letters "abc".
ABC = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def car(path: Path, *rows: str, **photos: bytes) -> Path:
    (path / "photos.csv").write_text(HEAD + "".join(f"{row},seat,front,before\n" for row in rows))
    for name, data in photos.items():
        (path / "photos").mkdir(exist_ok=True)
        (path / "photos" / f"{name}.jpg").write_bytes(data)
    return path


@pytest.mark.parametrize("file", ["photos/a.jpg", "a.jpg", "photos\\a.jpg"])
@pytest.mark.parametrize("digest", [ABC, ABC.upper()])
def test_a_photo_that_is_as_listed(tmp_path: Path, file: str, digest: str) -> None:
    read = read_folder(car(tmp_path, f"{file},{digest}", a=b"abc"))
    assert [kept.sha256 for kept in read.files] == [ABC]


def test_a_photo_that_is_missing(tmp_path: Path) -> None:
    (fault,) = faults_of(car(tmp_path, f"photos/b.jpg,{ABC}", a=b"abc"))
    assert (fault.file, fault.row, fault.column) == ("photos.csv", 2, "file")
    assert fault.value == "photos/b.jpg"
    assert "Put the photograph into photos/" in fault.remedy


def test_a_photo_listed_in_another_case_is_pointed_to(tmp_path: Path) -> None:
    (fault,) = faults_of(car(tmp_path, f"photos/A.JPG,{ABC}", a=b"abc"))
    assert "Write photos/a.jpg" in fault.remedy


def test_a_photo_that_is_another_one(tmp_path: Path) -> None:
    place = car(tmp_path, f"photos/a.jpg,{ABC}", a=b"abd")
    (fault,) = faults_of(place)
    assert (fault.row, fault.column, fault.value) == (2, "sha256", ABC)
    assert hashlib.sha256(b"abd").hexdigest() in fault.rule
    assert fault.remedy


def test_a_photo_without_a_row_is_kept(tmp_path: Path) -> None:
    read = read_folder(car(tmp_path, f"photos/a.jpg,{ABC}", a=b"abc", b=b"abd"))
    assert [kept.path for kept in read.files] == ["photos/a.jpg", "photos/b.jpg"]


def test_tables_that_travel_alone_are_read_and_that_is_said(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    car(tmp_path, f"photos/a.jpg,{ABC}")
    assert len(read_folder(tmp_path).sheet("photos")) == 1
    assert code("check", str(tmp_path)) == 0
    assert "photos.csv was not compared" in capsys.readouterr().err
