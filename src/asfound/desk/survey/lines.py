"""What the film says, a line a panel, ready to be shown."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.measure.film import FilmReading, PanelReading
from asfound.record.results.film import panel_words

_NORMAL_95 = 1.96
"""Half-width of the 95 % interval of a normal distribution, in standard deviations."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelLine:
    """One panel in the list: its words and its numbers."""

    panel: str
    words: str
    is_known: bool
    speaks_for_later_work: bool
    spots_n: int
    p_later_work: float
    median_um: float | None
    spread_um: float | None


def panel_line(panel: PanelReading) -> PanelLine:
    """Line of a panel; where it has no spot its numbers are not known."""
    words = panel_words(panel)
    is_measured = panel.spots_n > 0
    return PanelLine(
        panel=panel.panel,
        words=words,
        is_known=not words.startswith("not known"),
        speaks_for_later_work="support for later work" in words,
        spots_n=panel.spots_n,
        p_later_work=panel.p_later_work,
        median_um=panel.median_um if is_measured else None,
        spread_um=panel.spread_um if panel.spots_n > 1 else None,
    )


def panel_lines(reading: FilmReading) -> list[PanelLine]:
    """Lines of all panels: first those that speak for later work, the most probable first."""
    lines = [panel_line(panel) for panel in reading.panels]
    told = [line for line in lines if line.speaks_for_later_work]
    rest = [line for line in lines if not line.speaks_for_later_work]
    return sorted(told, key=lambda line: -line.p_later_work) + rest


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotLine:
    """One spot of the car: where it is, its film and what that says."""

    panel: str
    spot: str
    x_mm: float
    y_mm: float
    readings_n: int
    thickness_um: float
    u95_um: float
    p_later_work: float


def spot_lines(reading: FilmReading) -> list[SpotLine]:
    """Every spot of the car in the order of its panels: the map as numbers."""
    return [
        SpotLine(
            panel=panel.panel,
            spot=spot.spot,
            x_mm=spot.x_mm,
            y_mm=spot.y_mm,
            readings_n=spot.readings_n,
            thickness_um=spot.thickness_um,
            u95_um=_NORMAL_95 * spot.u_um,
            p_later_work=spot.p_later_work,
        )
        for panel in reading.panels
        for spot in panel.spots
    ]


def level_u95_um(reading: FilmReading) -> float:
    """Half-width of the interval that holds the car's level with 95 % [µm]."""
    return reading.level_um.expanded(coverage=0.95)
