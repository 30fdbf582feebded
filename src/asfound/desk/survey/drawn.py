"""The unfolded sheet of a car's finish, drawn once between two readings."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from django.urls import reverse

from asfound.dossier.figures import sheet_svg
from asfound.measure.film import FilmReading
from asfound.record.derived import FILM_TABLES, inputs_hash
from asfound.record.folder import CarFolder
from asfound.record.models import Car

_KEPT = 64
"""Drawings in memory: some 200 kB each, gone when the server ends."""
_drawings: OrderedDict[str, str] = OrderedDict()
_guard = Lock()


def drawn_sheet(
    car: Car, folder: CarFolder, reading: FilmReading | None, *, numbered: bool = True
) -> str:
    """SVG whose panels lead to their pages; drawn anew only when the readings changed."""
    key = inputs_hash(
        folder, FILM_TABLES, car=car.slug, read=reading is not None, numbered=numbered
    )
    with _guard:
        known = _drawings.get(key)
    if known is None:
        known = sheet_svg(
            folder,
            reading,
            links=lambda panel: reverse("panel", args=(car.slug, panel)),
            numbered=numbered,
        )
    with _guard:
        _drawings[key] = known
        _drawings.move_to_end(key)
        while len(_drawings) > _KEPT:
            _drawings.popitem(last=False)
    return known
