"""A yardstick for following crosses: a surveyor who is told the truth at every spot.

Spots on a panel go as far from those before and from the rim as they can, six more a round to the
panels with the fewest, and none to a panel once one of its spots has met later work. The verdict on
a panel is sure once it is met; all others share the chance that is right on average. The regular
grid is scored likewise, so that what is left is only whether works are met.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from benchmarks.cars import Car
from numpy.typing import NDArray

FARTHEST_N = 60  # spots a panel; work that so many have missed counts as never met
FROM_RIM = 2.0  # a spot at the rim would see half of what one in the middle sees


@dataclass(slots=True)
class OnePanel:
    """How many spots lie on a panel, and how many it takes to meet its work (inf if never)."""

    spots_n: int
    meets_at: float

    @property
    def met(self) -> bool:
        return self.spots_n >= self.meets_at


def panel_error(touched: NDArray[np.bool_], met: NDArray[np.bool_]) -> float:
    """Brier score where what is met is sure and the rest share one right chance."""
    chance = float(touched[~met].mean()) if (~met).any() else 0.0
    return chance * (1 - chance) * float((~met).mean())


def follow_truth(
    cars: Sequence[Car], started: Sequence[Sequence[OnePanel]], *, rounds: int, each: int
) -> NDArray[np.float64]:
    """Spots a car and panels' Brier score (rounds, 2) as ``each`` spots more are set a round."""
    touched = np.array([truth.touched for car in cars for truth in car.truth.values()])
    curve = []
    for _ in range(rounds):
        panels = [panel for car in started for panel in car]
        met = np.array([panel.met for panel in panels])
        curve.append([sum(p.spots_n for p in panels) / len(cars), panel_error(touched, met)])
        for car in started:
            _one_round(car, each)
    return np.array(curve)


def _one_round(panels: Sequence[OnePanel], each: int) -> None:
    for _ in range(each):
        still = [panel for panel in panels if not panel.met]
        if still:
            min(still, key=lambda panel: panel.spots_n).spots_n += 1


def begun(
    at_mm: NDArray[np.float64],
    outline: shapely.Polygon,
    later: NDArray[np.bool_],
    first: Sequence[int],
) -> OnePanel:
    """A panel of places (n, 2), read at the ``first`` of them, in the order of the farthest."""
    order = list(first)
    rim = FROM_RIM * shapely.distance(outline.exterior, shapely.points(at_mm))
    near = np.min([np.hypot(*(at_mm - at_mm[i]).T) for i in order], axis=0)
    while len(order) < FARTHEST_N:
        order.append(int(np.minimum(near, rim).argmax()))
        near = np.minimum(near, np.hypot(*(at_mm - at_mm[order[-1]]).T))
    hits = np.flatnonzero(later[order])
    return OnePanel(len(first), float(hits[0] + 1) if hits.size else np.inf)
