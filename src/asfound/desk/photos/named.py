"""Photographs that rows of other tables name by their file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.http import HttpRequest

from asfound.desk.access import open_rooms
from asfound.desk.photos.lines import PhotoLine, photo_lines
from asfound.record.models import Car
from asfound.record.models.release import OwnersRoom


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """Photographs that were found, and names under which the record has none."""

    lines: tuple[PhotoLine, ...] = ()
    not_found: tuple[str, ...] = ()


def files_named(text: str) -> list[str]:
    """Names in a cell, which stand with semicolons between them."""
    return [name for name in re.split(r"\s*;\s*", text.strip()) if name]


def photos_named(request: HttpRequest, car: Car, cells: Iterable[str]) -> Mapping[str, Named]:
    """Photographs by the cell that names them; none where their room is closed to the person."""
    texts = [text for text in cells if text]
    if not texts or OwnersRoom.PARTS not in open_rooms(request, car):
        return {}
    wanted = {name for text in texts for name in files_named(text)}
    rows = car.photos.current().filter(file__in=wanted)
    found = {line.photo.file: line for line in photo_lines(car, rows)}
    return {
        text: Named(
            lines=tuple(found[name] for name in files_named(text) if name in found),
            not_found=tuple(name for name in files_named(text) if name not in found),
        )
        for text in texts
    }
