"""Film and colour of one panel side by side, for the pages."""

from __future__ import annotations

from asfound.base import AsfoundError
from asfound.measure.colour import CarColour
from asfound.measure.film import FilmReading
from asfound.record.derived import colour_reading, film_reading
from asfound.record.folder import CarFolder
from asfound.record.results.colour_words import BothSigns, both_signs, both_words


def film_beside(folder: CarFolder, colour: CarColour) -> tuple[BothSigns, ...]:
    """Panels on which film and colour both spoke; none where the film tells nothing yet."""
    if not len(folder.sheet("film")) or not any(group.signs for group in colour.groups):
        return ()
    try:
        return both_signs(film_reading(folder), colour)
    except AsfoundError:
        return ()


def with_colour(folder: CarFolder, film: FilmReading, panel: str) -> str:
    """Film and colour of one panel as a sentence, for its page; empty unless both spoke."""
    if not len(folder.sheet("colour")):
        return ""
    try:
        found = both_signs(film, colour_reading(folder))
    except AsfoundError:
        return ""
    return next((both_words(signs) for signs in found if signs.panel == panel), "")
