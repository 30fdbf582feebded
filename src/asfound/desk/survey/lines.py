"""What the film says, a line a panel, ready to be shown."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from asfound.measure.film import FilmReading, PanelReading
from asfound.record.results.film import panel_words


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
    """Lines of all panels in the order of the car."""
    return [panel_line(panel) for panel in reading.panels]


def by_doubt(lines: Iterable[PanelLine]) -> list[PanelLine]:
    """Panels that speak for later work, the most probable first."""
    told = [line for line in lines if line.speaks_for_later_work]
    return sorted(told, key=lambda line: -line.p_later_work)


def level_u95_um(reading: FilmReading) -> float:
    """Half-width of the interval that holds the car's level with 95 % [µm]."""
    return reading.level_um.expanded(coverage=0.95)
