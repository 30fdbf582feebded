"""A car folder that came as a zip file: unpacked only if it is what it says it is."""

from __future__ import annotations

import lzma
import shutil
import stat
import zipfile
import zlib
from pathlib import Path, PurePosixPath
from typing import IO

from asfound.record.faults import Fault, InputFaultsError

MAX_FILES = 20_000
MAX_UNPACKED_BYTES = 2_000_000_000
MAX_RATIO = 100
"""Tables shrink about tenfold, photographs hardly; a hundredfold is a bomb."""
_SMALL_BYTES = 1_000_000
_NOT_A_ZIP = (
    zipfile.BadZipFile,
    NotImplementedError,
    RuntimeError,
    EOFError,
    OSError,
    ValueError,
    zlib.error,
    lzma.LZMAError,
)
"""What zipfile lets through when bytes are damaged."""


def unpack_folder(source: IO[bytes], target: Path, *, file: str) -> Path:
    """Folder that holds the car's tables, unpacked below ``target``.

    Parameters
    ----------
    source : binary file
        The zip file, seekable.
    target : Path
        An empty folder; what is unpacked stays within it.
    file : str
        Name for messages.

    Raises
    ------
    InputFaultsError
        If it is no zip file, names a place outside, holds a link, or grows beyond its limits;
        nothing is left behind then.
    """
    try:
        with zipfile.ZipFile(source) as archive:
            members = [info for info in archive.infolist() if not info.is_dir()]
            _refuse(members, file)
            for info in members:
                _unpack(archive, info, target / PurePosixPath(info.filename), file)
    except _NOT_A_ZIP as error:
        _empty(target)
        raise _fault(file, f"the file is not a zip file that can be read ({error})") from error
    except InputFaultsError:
        _empty(target)
        raise
    inner = [entry for entry in target.iterdir() if not entry.name.startswith(("__", "."))]
    return inner[0] if len(inner) == 1 and inner[0].is_dir() else target


def _refuse(members: list[zipfile.ZipInfo], file: str) -> None:
    if len(members) > MAX_FILES:
        raise _fault(file, f"it holds {len(members):,} files; {MAX_FILES:,} at most are taken")
    unpacked = sum(info.file_size for info in members)
    if unpacked > MAX_UNPACKED_BYTES:
        limit = MAX_UNPACKED_BYTES / 1e9
        raise _fault(
            file, f"it would unpack to {unpacked / 1e9:.1f} GB; {limit:.0f} GB at most are taken"
        )
    for info in members:
        name = PurePosixPath(info.filename.replace("\\", "/"))
        if name.is_absolute() or ".." in name.parts or ":" in info.filename:
            raise _fault(file, f"the entry {info.filename!r} names a place outside the folder")
        if stat.S_ISLNK(info.external_attr >> 16):
            raise _fault(file, f"the entry {info.filename!r} is a link, not a file")
        packed = max(info.compress_size, 1)
        if info.file_size > _SMALL_BYTES and info.file_size / packed > MAX_RATIO:
            raise _fault(
                file, f"the entry {info.filename!r} grows more than {MAX_RATIO} times as it unpacks"
            )


def _unpack(archive: zipfile.ZipFile, info: zipfile.ZipInfo, place: Path, file: str) -> None:
    """The size written in the head is a claim: no more than that is unpacked."""
    place.parent.mkdir(parents=True, exist_ok=True)
    left = info.file_size
    with archive.open(info) as source, place.open("wb") as sink:
        while block := source.read(1 << 16):
            left -= len(block)
            if left < 0:
                raise _fault(file, f"the entry {info.filename!r} is larger than it says")
            sink.write(block)


def _empty(target: Path) -> None:
    for entry in target.iterdir():
        shutil.rmtree(entry) if entry.is_dir() else entry.unlink()


def _fault(file: str, rule: str) -> InputFaultsError:
    return InputFaultsError(
        (Fault(file=file, rule=rule, remedy="Zip the car folder again, with nothing else in it."),)
    )
