"""What was measured of polishing on one car: passes, floors, and the film that is there."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from asfound.measure.film.survey import FilmSurvey
from asfound.measure.polish.budget import Floor


@dataclass(frozen=True, slots=True, kw_only=True)
class PolishReading:
    """One spot read before and after some passes, as the gauge showed it.

    Parameters
    ----------
    panel, area, spot : str
        ``area`` is a part of the panel that is polished alike; empty for the whole panel.
    before_um, after_um : float
        Mean of the spot's gauge readings, not corrected, zero or more.
    passes_n : int
        Passes between the two, one or more.
    process : str
        Machine, pad and compound in one name; empty where it was not written down.
    gauge : str
    day : str
        ISO date, or empty.
    x_mm, y_mm : float or None
        Place on the panel, where it was noted.
    """

    panel: str
    area: str
    spot: str
    before_um: float
    after_um: float
    passes_n: int
    process: str = ""
    gauge: str = ""
    day: str = ""
    x_mm: float | None = None
    y_mm: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelFloor:
    """The floor of an area of a panel; of the whole panel where the floor's area is empty."""

    panel: str
    floor: Floor
    source: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PolishSurvey:
    """Everything needed to say what polishing took and what it may still take.

    Parameters
    ----------
    readings : tuple of PolishReading
        In the order in which they were written down.
    floors : tuple of PanelFloor
    film : FilmSurvey
        The car's film readings and shims.
    film_days : mapping of (panel, spot) to str
        ISO date of the first film reading of a spot; a spot that is not in it has none.
    """

    readings: tuple[PolishReading, ...]
    floors: tuple[PanelFloor, ...] = ()
    film: FilmSurvey = field(default_factory=lambda: FilmSurvey(panels=(), readings=()))
    film_days: Mapping[tuple[str, str], str] = field(default_factory=lambda: MappingProxyType({}))
