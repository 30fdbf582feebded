"""The areas of panels, and of all of them together."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Area:
    """Area of one panel."""

    panel: str
    view: str
    area_m2: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Areas:
    """Areas panel by panel, and their sum."""

    panels: tuple[Area, ...]

    @property
    def total_m2(self) -> float:
        """Area of all panels."""
        return sum(panel.area_m2 for panel in self.panels)


def areas(panels: Iterable[tuple[str, str, float]]) -> Areas:
    """Areas of panels, each told by name, view and m²."""
    return Areas(panels=tuple(Area(panel=p, view=v, area_m2=m) for p, v, m in panels))
