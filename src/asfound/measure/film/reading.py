"""What the survey of a finish says: spots, panels, the car, and where to measure next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from asfound.base import Estimate

Kind = Literal[
    "local respray",
    "filler",
    "refinished over",
    "stripped and refinished",
    "polished thin",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeCorrection:
    """A gauge's line: reading = offset + slope · true thickness.

    ``u_um`` is the standard uncertainty of one corrected reading at the car's level.
    """

    gauge: str
    offset_um: Estimate
    slope: Estimate
    covariance_um: float
    repeatability_um: float
    u_um: float
    readings_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SpotReading:
    """A spot: corrected mean, its doubt, and the probability of later work.

    ``kinds`` shares ``p_later_work`` out among the kinds; they sum to it.
    """

    spot: str
    x_mm: float
    y_mm: float
    readings_n: int
    thickness_um: float
    u_um: float
    p_later_work: float
    kinds: Mapping[Kind, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class LaterWorkArea:
    """An area of suspected later work, outlined in the panel's own mm."""

    kind: Kind
    probability: float
    outline: Polygon

    @property
    def area_mm2(self) -> float:
        """Area inside the outline [mm²]."""
        return float(self.outline.area)


@dataclass(frozen=True, slots=True, kw_only=True)
class Surface:
    """The film over a panel on a regular grid; NaN outside the outline.

    ``x_mm`` has shape (nx,), ``y_mm`` (ny,), the fields (ny, nx).
    """

    x_mm: NDArray[np.float64]
    y_mm: NDArray[np.float64]
    film_um: NDArray[np.float64]
    u_um: NDArray[np.float64]
    p_later_work: NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelReading:
    """A panel: its spots, the probability of any later work on it, and where.

    ``kinds`` are the probabilities that each kind occurs on the panel; as several can, they need
    not sum to ``p_later_work``. ``lr_later_work`` is the likelihood ratio of the panel's readings
    for "carries later work" against "undisturbed since built", given the rest of the car.
    """

    panel: str
    spots_n: int
    median_um: float
    spread_um: float
    p_later_work: float
    lr_later_work: float
    kinds: Mapping[Kind, float]
    spots: tuple[SpotReading, ...]
    areas: tuple[LaterWorkArea, ...]
    surface: Surface


@dataclass(frozen=True, slots=True, kw_only=True)
class NextSpot:
    """A place to measure next and what it is expected to tell."""

    panel: str
    x_mm: float
    y_mm: float
    gain_bits: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FilmReading:
    """The whole reading of a car's finish."""

    level_um: Estimate
    gauges: tuple[GaugeCorrection, ...]
    panels: tuple[PanelReading, ...]
    next_spots: tuple[NextSpot, ...]
