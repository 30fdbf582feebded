"""Whether a file is a spreadsheet that may be opened at all: its kind, and how far it grows."""

from __future__ import annotations

import io
import lzma
import zipfile
import zlib

from asfound.record.faults import Fault

MAX_UNPACKED_BYTES = 100_000_000
"""A sheet of 50,000 rows has some 30 MB as XML."""
_OLD_OR_LOCKED = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ZIP = b"PK"
_DAMAGED = (
    zipfile.BadZipFile,
    zlib.error,
    lzma.LZMAError,
    EOFError,
    NotImplementedError,
    OSError,
    RuntimeError,
    ValueError,
)
_REMEDY = "Save the sheet as a spreadsheet of the kind .xlsx, or as CSV."


def is_spreadsheet(data: bytes) -> bool:
    """Whether the bytes begin as a spreadsheet's do, of a kind that is read or not."""
    return data.startswith((_ZIP, _OLD_OR_LOCKED))


def check_package(data: bytes, *, file: str) -> Fault | None:
    """Why the bytes are no spreadsheet that is opened; ``None`` if they are one.

    Notes
    -----
    A package holds no document type definition (ISO/IEC 29500-2, requirement for XML parts), so
    that one that does is refused before anything expands it.
    """
    if data.startswith(_OLD_OR_LOCKED):
        rule = "this is a spreadsheet of the older kind (.xls), or one locked with a password"
        return Fault(file=file, rule=rule, remedy=f"Open it in a spreadsheet. {_REMEDY}")
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as archive:
            rule = _broken_rule(archive)
    except _DAMAGED as error:
        rule = f"the file cannot be opened as a spreadsheet ({error})"
    return Fault(file=file, rule=rule, remedy=_REMEDY) if rule else None


def _broken_rule(archive: zipfile.ZipFile) -> str:
    names = set(archive.namelist())
    if "[Content_Types].xml" not in names:
        if "mimetype" in names and b"opendocument" in archive.read("mimetype")[:200]:
            return "this is an OpenDocument spreadsheet (.ods), which is not read here"
        return "the file is a zip file, but no spreadsheet of the kind .xlsx"
    if any(name.endswith(".bin") and "workbook" in name for name in names):
        return "this is a spreadsheet of the binary kind (.xlsb), which is not read here"
    unpacked = sum(info.file_size for info in archive.infolist())
    if unpacked > MAX_UNPACKED_BYTES:
        limit = MAX_UNPACKED_BYTES / 1e6
        return f"it would unpack to {unpacked / 1e6:,.0f} MB; {limit:.0f} MB at most are taken"
    return _broken_part(archive)


def _broken_part(archive: zipfile.ZipFile) -> str:
    """The size in the directory is a claim; Python's reader stops there, and its sum fails."""
    for info in archive.infolist():
        if info.filename.endswith((".xml", ".rels")):
            with archive.open(info) as part:
                start = part.read(4096).replace(b"\0", b"")
            if b"<!DOCTYPE" in start:
                return f"its part {info.filename!r} declares a document type, which none may"
    return ""
