"""What a photograph's file says of itself."""

from __future__ import annotations

import re
import warnings
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pi_heif
from PIL import ExifTags, Image, UnidentifiedImageError

from asfound.record.faults import Fault

pi_heif.register_heif_opener()

MOST_PIXELS = 120_000_000
"""Above this no camera of a workshop reaches, and a file that claims it may be a trap."""
Image.MAX_IMAGE_PIXELS = MOST_PIXELS  # so that Pillow warns of no photograph that is taken
_KINDS = {"JPEG": ".jpg", "MPO": ".jpg", "PNG": ".png", "HEIF": ".heic"}


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """A photograph as its file tells it.

    Parameters
    ----------
    suffix : str
        Of the file's name, after its kind: ``.jpg``, ``.png`` or ``.heic``.
    width_px, height_px : int
        As shown, after the camera's turn.
    taken_at : str
        Of the camera's clock, ISO 8601, with the zone if the camera wrote one; empty if none.
    has_location : bool
        Whether the file says where it was taken.
    """

    suffix: str
    width_px: int
    height_px: int
    taken_at: str
    has_location: bool


def about(path: Path, *, name: str) -> About | Fault:
    """What the file is, or why it is not taken.

    Parameters
    ----------
    path : Path
    name : str
        As the person knows the file, for the fault.
    """
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(path) as image:
                return _told(image, name)
    except Image.DecompressionBombError:
        return _too_many_pixels(name)
    except (UnidentifiedImageError, OSError, ValueError, SyntaxError):
        return Fault(
            file=name,
            rule="it is not a photograph that can be read (JPEG, PNG or HEIC)",
            remedy="Choose the file that the camera wrote; if it is damaged, copy it once more.",
        )


def _told(image: Image.Image, name: str) -> About | Fault:
    suffix = _KINDS.get(image.format or "")
    if suffix is None:
        return Fault(
            file=name,
            value=image.format or "",
            rule="photographs are kept as JPEG, PNG or HEIC",
            remedy="Export it as JPEG at full size.",
        )
    width, height = image.size
    if width * height > MOST_PIXELS:
        return _too_many_pixels(name, f"{width} × {height}")
    exif = image.getexif()
    if exif.get(ExifTags.Base.Orientation, 1) in (5, 6, 7, 8):
        width, height = height, width
    return About(
        suffix=suffix,
        width_px=width,
        height_px=height,
        taken_at=_taken_at(exif),
        has_location=bool(exif.get_ifd(ExifTags.IFD.GPSInfo)),
    )


def _too_many_pixels(name: str, value: str = "") -> Fault:
    return Fault(
        file=name,
        value=value,
        rule=f"a photograph may have {MOST_PIXELS / 1e6:.0f} million pixels",
        remedy="Export it smaller, and keep the large one elsewhere.",
    )


def _taken_at(exif: Any) -> str:
    """Time of the exposure; the file's own time says when it was copied and is not taken."""
    inner = exif.get_ifd(ExifTags.IFD.Exif)
    told = str(inner.get(ExifTags.Base.DateTimeOriginal, ""))
    found = re.fullmatch(r"(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)\0*", told.strip())
    if found is None or found[1] == "0000":
        return ""
    zone = str(inner.get(ExifTags.Base.OffsetTimeOriginal, "")).strip("\0 ")
    zone = zone if re.fullmatch(r"[+-]\d\d:\d\d", zone) else ""
    return f"{found[1]}-{found[2]}-{found[3]}T{found[4]}{zone}"
