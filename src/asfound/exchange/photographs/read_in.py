"""A photograph's bytes put on the shelf and looked at, before the record says anything of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import IO

from asfound.exchange.photographs.about import About, about
from asfound.exchange.photographs.kept import SMALL_PX, place_of_picture, put_whole
from asfound.exchange.photographs.shown import shown
from asfound.record.faults import Fault
from asfound.record.full_disk import is_full
from asfound.record.shelf import Beside, beside_shelf


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

    Notes
    -----
    It is looked at before it is put on the shelf, so that nothing of a refused file stays.
    """
    with beside_shelf(stream) as beside:
        told = about(beside.path, name=name)
        if isinstance(told, Fault):
            return told
        try:
            _make_small(beside)
        except (OSError, ValueError, SyntaxError) as error:
            if is_full(error):
                raise
            return Fault(
                file=name,
                rule="the photograph begins well and breaks off: its file is damaged or was cut "
                "short",
                remedy="Copy it from the camera once more and send that.",
            )
        shelved = beside.keep()
    return ReadIn(sha256=shelved.sha256, size=shelved.size, about=told)


def _make_small(beside: Beside) -> None:
    place = place_of_picture(beside.shelved.sha256, longest_px=SMALL_PX)
    if not place.exists():
        put_whole(place, shown(beside.path, longest_px=SMALL_PX))
