"""Photographs of one part or panel, beside what else its page tells."""

from __future__ import annotations

from typing import Any

from asfound.craft.photographs import OF_A_PART
from asfound.desk.photos.gallery import photos_of
from asfound.desk.photos.lines import photo_lines
from asfound.desk.photos.wanted import wanted_of
from asfound.record.models import Car

SHOWN = 12


def photos_beside(car: Car, subject: str) -> dict[str, Any]:
    """What ``photos/_beside.html`` shows: the latest photographs, and the views still missing."""
    found = photos_of(car, subject=subject)
    (wanted,) = wanted_of(car, [(subject, subject)], OF_A_PART)
    return {
        "photos": photo_lines(car, found.order_by("-position", "-pk")[:SHOWN]),
        "photos_n": found.count(),
        "photos_of": subject,
        "wanted_photos": wanted,
    }
