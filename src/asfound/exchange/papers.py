"""Papers of an errand: a PDF or a photograph of a delivery note, kept as it came."""

from __future__ import annotations

from dataclasses import dataclass
from typing import IO

from asfound.exchange.photographs import ReadIn, read_in
from asfound.record.faults import Fault
from asfound.record.shelf import shelve

MOST_BYTES = 30_000_000
ACCEPTED = "application/pdf,image/jpeg,image/png,image/heic,image/heif,.pdf,.heic,.heif"
_PDF = b"%PDF-"


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """A paper on the shelf: its hash, its bytes' number, and the ending of its name."""

    sha256: str
    size: int
    suffix: str


def read_paper(name: str, stream: IO[bytes], *, size: int) -> Paper | Fault:
    """Paper on the shelf, or why it is not taken.

    Parameters
    ----------
    name : str
        As the person knows the file.
    stream : binary stream
        Seekable; read to its end.
    size : int
        In bytes.
    """
    if size > MOST_BYTES:
        return Fault(
            file=name,
            value=f"{size / 1e6:.0f} MB",
            rule=f"a paper may be {MOST_BYTES / 1e6:.0f} MB large",
            remedy="Scan it at 200 dots an inch, or photograph it.",
        )
    head = stream.read(len(_PDF))
    stream.seek(0)
    if head == _PDF:
        shelved = shelve(stream)
        return Paper(sha256=shelved.sha256, size=shelved.size, suffix=".pdf")
    got = read_in(name, stream)
    if isinstance(got, ReadIn):
        return Paper(sha256=got.sha256, size=got.size, suffix=got.about.suffix)
    return Fault(
        file=name,
        rule="a paper is a PDF or a photograph (JPEG, PNG or HEIC)",
        remedy="Export it as PDF, or photograph it.",
    )
