"""A photograph as a page shows it: its pictures, what it shows, its marks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from django.urls import reverse
from PIL import Image

from asfound.base import InputError
from asfound.desk.photos.subjects import Shown, shown_by
from asfound.dossier.figures import marks_svg
from asfound.exchange.photographs import LARGE_PX, SMALL_PX, kept_picture
from asfound.record.convert.photo_marks import Mark, marks_of
from asfound.record.models import Car, Photo

_HASH_LETTERS = 64
SIZES = {"small": SMALL_PX, "large": LARGE_PX}


@dataclass(frozen=True, slots=True, kw_only=True)
class PhotoLine:
    """A photograph among others."""

    photo: Photo
    shown: Shown
    page: str
    small: str
    large: str
    marks: tuple[Mark, ...]
    layer: str

    @property
    def told(self) -> str:
        """What it shows, in place of the picture."""
        return f"{self.shown.words}: {self.photo.view}, {self.photo.stage}"


def photo_lines(car: Car, photos: Iterable[Photo]) -> list[PhotoLine]:
    """Photographs as the pages list them."""
    rows = list(photos)
    shown = shown_by(car, (row.subject for row in rows))
    return [_line(car, row, shown[row.subject]) for row in rows]


def photo_line(car: Car, photo: Photo) -> PhotoLine:
    """One photograph."""
    return photo_lines(car, [photo])[0]


def picture_address(car: Car, sha256: str, size: str) -> str:
    """Address of a picture that may be looked at, not of the original."""
    return reverse("photo-picture", args=(car.slug, sha256, size))


def _line(car: Car, photo: Photo, shown: Shown) -> PhotoLine:
    marks = readable_marks(photo)
    has_bytes = len(photo.sha256) == _HASH_LETTERS
    page = reverse("photo", args=(car.slug, photo.sha256)) if has_bytes else ""
    return PhotoLine(
        photo=photo,
        shown=shown,
        page=page,
        small=picture_address(car, photo.sha256, "small") if page else "",
        large=picture_address(car, photo.sha256, "large") if page else "",
        marks=marks,
        layer=_layer(photo, marks),
    )


def readable_marks(photo: Photo) -> tuple[Mark, ...]:
    """Marks of a photograph; none where its text, from another program, cannot be read."""
    try:
        return marks_of(photo.marks)
    except InputError:
        return ()


def _layer(photo: Photo, marks: tuple[Mark, ...]) -> str:
    if not marks:
        return ""
    try:
        wide, high = size_px(photo.sha256)
    except (OSError, ValueError):  # the shelf has no such bytes: nothing to lie on
        return ""
    return marks_svg(marks, width_px=wide, height_px=high)


def size_px(sha256: str) -> tuple[int, int]:
    """Width and height of the small picture, which has the shape of the photograph."""
    with Image.open(kept_picture(sha256, longest_px=SMALL_PX)) as picture:
        return picture.size
