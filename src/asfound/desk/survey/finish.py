"""The reading of a car's finish for a page, or words for people where there is none yet."""

from __future__ import annotations

from asfound.base import NotEnoughEvidenceError
from asfound.measure.film import FilmReading
from asfound.record.derived import film_reading
from asfound.record.folder import CarFolder

_NOTHING_YET = "Nothing is measured yet. Choose a panel, tap a place on it and type its readings."


def read_finish(folder: CarFolder) -> FilmReading:
    """Reading of the finish.

    Raises
    ------
    NotEnoughEvidenceError
        If nobody has measured anything; its words tell how to begin.
    """
    if not len(folder.sheet("film")):
        raise NotEnoughEvidenceError(_NOTHING_YET)
    return film_reading(folder)
