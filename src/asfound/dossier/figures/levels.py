"""Contour levels: round steps common to the whole car."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from asfound.dossier.figures.palette import tint
from asfound.measure.film import FilmReading

_STEPS_UM = (5.0, 10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 250.0, 500.0, 1000.0)
_BANDS_MOST = 12
_CAP = 2.2
"""Film beyond so many times the car's level saturates the scale: it is filler by any reading,
and a bar that stretched to it would leave no colour for the finish itself."""

_BEYOND_MOST = 6
"""Isolines drawn beyond the end of the scale."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Levels:
    """Edges of the bands of colour [µm]; the last band has no upper end when ``saturated``."""

    step_um: float
    edges_um: tuple[float, ...]
    saturated: bool
    most_um: float

    @property
    def bands_n(self) -> int:
        """How many bands of colour there are."""
        return len(self.edges_um) - 1

    def colour(self, band: int) -> str:
        """Colour of a band, counted from the thinnest; beyond the ends, that of the end."""
        return tint(min(max(band, 0), self.bands_n - 1) / max(1, self.bands_n - 1))

    def colour_at(self, film_um: float) -> str:
        """Colour of the band that a film falls in."""
        return self.colour(int(np.searchsorted(self.edges_um, film_um, side="right")) - 1)

    @property
    def isolines_um(self) -> tuple[float, ...]:
        """Levels of isolines: every edge, and where the scale saturates, wider steps onwards."""
        lines = list(self.edges_um[1:-1])
        wide = 2 * self.step_um
        while self.saturated and (self.most_um - lines[-1]) / wide > _BEYOND_MOST:
            wide *= 2
        while self.saturated and lines[-1] + wide < self.most_um:
            lines.append(lines[-1] + wide)
        return tuple(lines)

    def is_index(self, level_um: float) -> bool:
        """Whether an isoline is drawn stronger: every fourth step, and all beyond the scale."""
        beyond = self.saturated and level_um >= self.edges_um[-2]
        return beyond or round(level_um / self.step_um) % 4 == 0


def levels_of(reading: FilmReading | None) -> Levels | None:
    """Levels for all panels of a car; ``None`` where nothing was read."""
    films = [p.surface.film_um.ravel() for p in reading.panels if p.spots_n] if reading else []
    values = np.concatenate(films) if films else np.array([])
    values = values[np.isfinite(values)]
    if reading is None or not values.size:
        return None
    low, high = max(0.0, float(np.quantile(values, 0.01))), float(values.max())
    cap = max(_CAP * reading.level_um.value, low + _STEPS_UM[0])
    return levels_between(low_um=low, high_um=high, cap_um=cap)


def levels_between(*, low_um: float, high_um: float, cap_um: float) -> Levels:
    """Round levels from ``low_um`` to ``high_um``; beyond ``cap_um`` the scale saturates."""
    top = min(high_um, cap_um)
    step = next((s for s in _STEPS_UM if (top - low_um) / s <= _BANDS_MOST - 1), _STEPS_UM[-1])
    first, last = math.floor(low_um / step), math.ceil(top / step)
    last = max(last, first + 2)
    saturated = high_um > last * step
    if saturated:
        last += 1
    edges = tuple(step * k for k in range(first, last + 1))
    return Levels(step_um=step, edges_um=edges, saturated=saturated, most_um=high_um)
