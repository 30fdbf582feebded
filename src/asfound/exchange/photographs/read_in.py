"""A photograph's bytes put on the shelf and looked at, before the record says anything of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import IO

from asfound.exchange.photographs.about import About, about
from asfound.exchange.photographs.kept import SMALL_PX, kept_picture
from asfound.record.faults import Fault
from asfound.record.shelf import place_of, shelve


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadIn:
    """A photograph on the shelf: its hash, its bytes' number, what its file says."""

    sha256: str
    size: int
    about: About


def read_in(name: str, stream: IO[bytes]) -> ReadIn | Fault:
    """Photograph on the shelf with its small picture made, or why it is not taken.

    Parameters
    ----------
    name : str
        As the person knows the file.
    stream : binary stream
        Read to its end.
    """
    shelved = shelve(stream)
    told = about(place_of(shelved.sha256), name=name)
    if isinstance(told, Fault):
        return told
    try:
        kept_picture(shelved.sha256, longest_px=SMALL_PX)
    except (OSError, ValueError, SyntaxError):
        return Fault(
            file=name,
            rule="the photograph begins well and breaks off: its file is damaged or was cut short",
            remedy="Copy it from the camera once more and send that.",
        )
    return ReadIn(sha256=shelved.sha256, size=shelved.size, about=told)
