"""A zip file is unpacked only if it stays in its place and is as small as it says."""

from __future__ import annotations

import io
import stat
import zipfile
from pathlib import Path

import pytest

from asfound.exchange import unpack_folder
from asfound.record.faults import InputFaultsError


def zipped(*entries: tuple[str | zipfile.ZipInfo, bytes]) -> io.BytesIO:
    data = io.BytesIO()
    with zipfile.ZipFile(data, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in entries:
            archive.writestr(name, content)
    data.seek(0)
    return data


def link(name: str) -> zipfile.ZipInfo:
    info = zipfile.ZipInfo(name)
    info.external_attr = (stat.S_IFLNK | 0o777) << 16
    return info


def test_the_folder_inside_is_found(tmp_path: Path) -> None:
    source = zipped(("my car/film.csv", b"panel"), ("my car/photos/a.jpg", b"x"))
    place = unpack_folder(source, tmp_path, file="car.zip")
    assert place == tmp_path / "my car"
    assert (place / "film.csv").read_bytes() == b"panel"


def test_tables_at_the_top_are_found(tmp_path: Path) -> None:
    source = zipped(("film.csv", b"panel"), ("car.csv", b"x"))
    assert unpack_folder(source, tmp_path, file="car.zip") == tmp_path


@pytest.mark.parametrize(
    ("source", "rule"),
    [
        (zipped(("../film.csv", b"x")), "outside"),
        (zipped(("a/../../film.csv", b"x")), "outside"),
        (zipped(("/etc/film.csv", b"x")), "outside"),
        (zipped(("..\\film.csv", b"x")), "outside"),
        (zipped(("C:/film.csv", b"x")), "outside"),
        (zipped((link("film.csv"), b"/etc/passwd")), "link"),
        (zipped(("film.csv", b"0" * 50_000_000)), "grows more than 100 times"),
        (io.BytesIO(b"not a zip"), "not a zip file"),
    ],
)
def test_refusals_leave_nothing_behind(tmp_path: Path, source: io.BytesIO, rule: str) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    with pytest.raises(InputFaultsError, match=rule):
        unpack_folder(source, inside, file="car.zip")
    assert list(tmp_path.rglob("*")) == [inside]


def test_a_head_that_lies_about_the_size(tmp_path: Path) -> None:
    data = bytearray(zipped(("film.csv", b"panel,spot" * 1000)).getvalue())
    true_size = (10_000).to_bytes(4, "little")
    for at in (i for i in range(len(data)) if data[i : i + 4] == true_size):
        data[at : at + 4] = (10).to_bytes(4, "little")
    with pytest.raises(InputFaultsError, match=r"larger than it says|not a zip file"):
        unpack_folder(io.BytesIO(bytes(data)), tmp_path, file="car.zip")
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("whole", "damaged"),
    [
        (b"panel,spot\n" * 500, "packed bytes"),
        (b"x", "place of the list of entries"),
    ],
)
def test_a_damaged_zip_file_is_told_and_leaves_nothing(
    tmp_path: Path, whole: bytes, damaged: str
) -> None:
    data = bytearray(zipped(("film.csv", whole)).getvalue())
    if damaged == "packed bytes":
        start = 30 + len("film.csv")  # APPNOTE 4.3.7: a local head has 30 bytes and the name
        data[start : start + 8] = b"\xff" * 8
    else:
        end = data.rindex(b"PK\x05\x06")  # APPNOTE 4.3.16: size of the list at byte 12
        data[end + 12 : end + 16] = b"\xff\xff\xff\x7f"
    with pytest.raises(InputFaultsError, match="not a zip file"):
        unpack_folder(io.BytesIO(bytes(data)), tmp_path, file="car.zip")
    assert list(tmp_path.iterdir()) == []
