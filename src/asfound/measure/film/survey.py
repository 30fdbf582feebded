"""What was measured of a finish: panels, gauge readings and the readings on known shims."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from shapely import Polygon

Substrate = Literal["steel", "aluminium", "other", "unknown"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A panel with its outline in its own mm."""

    panel: str
    outline: Polygon
    substrate: Substrate = "unknown"


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading:
    """One gauge reading; readings with one (panel, spot) form a spot."""

    panel: str
    spot: str
    x_mm: float
    y_mm: float
    thickness_um: float
    gauge: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimReading:
    """One reading on a certified shim (``nominal_um``), or on bare metal (0)."""

    nominal_um: float
    read_um: float
    gauge: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmSurvey:
    """Everything measured of one car's finish."""

    panels: tuple[Panel, ...]
    readings: tuple[Reading, ...]
    shims: tuple[ShimReading, ...] = ()
