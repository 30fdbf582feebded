"""Smaller pictures of photographs on the shelf, kept beside them so that each is made once."""

from __future__ import annotations

import os
from pathlib import Path

from django.conf import settings

from asfound.exchange.photographs.shown import shown
from asfound.record.draft import draft_file
from asfound.record.shelf import place_of

SMALL_PX = 480
"""For lists, where many stand beside each other."""
PRINT_PX = 800
"""For paper: 80 mm at 250 dots an inch."""
LARGE_PX = 1_800
"""For looking closely, on a page of its own."""


def kept_picture(sha256: str, *, longest_px: int) -> Path:
    """Where a JPEG of the photograph lies whose longer side is at most ``longest_px``.

    Parameters
    ----------
    sha256 : str
        Of the photograph's bytes.
    longest_px : int
        One of the sizes above.

    Raises
    ------
    OSError
        If the shelf does not hold the photograph, or its bytes break off.

    Notes
    -----
    It is named by the content and the size, so that it is never out of date; the folder can be
    emptied at any time. It comes from ``shown`` and says neither place nor camera.
    """
    place = place_of_picture(sha256, longest_px=longest_px)
    if not place.exists():
        put_whole(place, shown(place_of(sha256), longest_px=longest_px))
    return place


def place_of_picture(sha256: str, *, longest_px: int) -> Path:
    """Where the picture of that size lies once it was made."""
    return pictures_folder() / sha256[:2] / f"{sha256}-{longest_px}.jpg"


def picture_on_shelf(file: str, sha256: str) -> bytes | None:
    """Picture for paper of a photograph on the shelf; none where its bytes are not there.

    Parameters
    ----------
    file : str
        Its path in the car's folder, which does not matter here.
    sha256 : str
    """
    try:
        return kept_picture(sha256, longest_px=PRINT_PX).read_bytes()
    except (OSError, ValueError):
        return None


def pictures_folder() -> Path:
    """Where pictures lie that can be made again."""
    return Path(settings.ASFOUND_HOME) / "cache" / "pictures"


def put_whole(place: Path, data: bytes) -> None:
    """Write a file that others see whole or not at all."""
    with draft_file(pictures_folder()) as (draft, sink):
        sink.write(data)
        sink.flush()
        place.parent.mkdir(parents=True, exist_ok=True)
        os.replace(draft, place)
