"""The finish: from gauge readings to where later work lies, how sure that is, where to look."""

from asfound.measure.film.read import read_film
from asfound.measure.film.reading import (
    FilmReading,
    GaugeCorrection,
    Kind,
    LaterWorkArea,
    NextSpot,
    PanelReading,
    SpotReading,
    Surface,
)
from asfound.measure.film.survey import FilmSurvey, Panel, Reading, ShimReading, Substrate

__all__ = [
    "FilmReading",
    "FilmSurvey",
    "GaugeCorrection",
    "Kind",
    "LaterWorkArea",
    "NextSpot",
    "Panel",
    "PanelReading",
    "Reading",
    "ShimReading",
    "SpotReading",
    "Substrate",
    "Surface",
    "read_film",
]
