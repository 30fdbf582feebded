"""What the model takes for granted before it sees a car, each with its reason.

None of these figures is published; they are wide on purpose and stated so that they can be
argued with. Amounts are µm; "share" is relative to the level of the car or panel.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from asfound.measure.film.reading import Kind


@dataclass(frozen=True, slots=True)
class LevelWay:
    """One way in which a panel may have come by its level: a bell curve with a weight."""

    kind: str
    weight: float
    share: float  # of the car's level
    plus_um: float
    sd_um: float
    loose: float = 1.0  # the works' habit between panels times this

    @property
    def plain(self) -> bool:
        """Whether the panel is as the works left it."""
        return not self.kind


# Most panels of most cars were painted together, now and then one by another hand; a coat over
# the old finish adds 60 to 300 µm; a stripped panel carries a finish of its own age, from a thin
# modern one to a thick one.
LEVEL_WAYS = (
    LevelWay("", 0.81, 1.0, 0.0, 0.0),
    LevelWay("", 0.06, 1.0, 0.0, 0.0, loose=1.8),
    LevelWay("refinished over", 0.03, 1.0, 95.0, 32.0),
    LevelWay("refinished over", 0.03, 1.0, 170.0, 45.0),
    LevelWay("refinished over", 0.015, 1.0, 280.0, 80.0),
    LevelWay("stripped and refinished", 0.02, 0.0, 120.0, 35.0),
    LevelWay("stripped and refinished", 0.02, 0.0, 200.0, 55.0),
    LevelWay("stripped and refinished", 0.015, 0.0, 330.0, 90.0),
)


@dataclass(frozen=True, slots=True)
class Amount:
    """How much one local work adds: a bell curve with a weight."""

    kind: Kind
    weight: float
    mean_um: float
    sd_um: float


# A blown-in repair is two to four coats; the third curve stands for repairs with surfacer or a
# skim of filler. Filler proper is too uneven for a curve: see GROSS.
ADDED = (
    Amount("local respray", 0.42, 75.0, 28.0),
    Amount("local respray", 0.42, 150.0, 45.0),
    Amount("filler", 0.16, 290.0, 110.0),
)
THIN_SHARE, THIN_SD_SHARE = -0.28, 0.11  # mops take most at edges and swage lines
# A work that adds less than a coat, or takes less than a polish, is none: without this bound
# several works could cancel and call sound places later work.
ADDED_LEAST_UM, THIN_LEAST_SHARE = 25.0, -0.08
THIN_ODDS = 0.25  # share of local works that are thin edges

# Cars are touched much or little. These shares of a car's panels, each as likely, average to the
# prior of a panel of which nothing else of the car is known.
LATER_SHARES = (0.08, 0.2, 0.32, 0.48)

PATCHES_MOST = 4
LOCAL_ODDS = 0.16  # a panel of unknown history carries a local work
ANOTHER_ODDS = 0.45  # and, having one, another

# A spot this far above its panel is filler whatever the model; its exact height says nothing.
GROSS_UM, GROSS_SHARE = 180.0, 0.35
GROSS_PENALTY = 11.0  # log odds against such a spot outside every local work
# A feather fades into the film beside it: below the first part of its amount it counts as no work,
# from the second on as work, in between in part.
COVERED_FROM, COVERED_WHOLLY = 0.25, 0.65

# No shape of ours fits a real edge exactly. Where neighbours differ by so much, a spot misses
# the shape by this part of the step; else dense spots on a slope call for works upon works.
STEP_SHARE, STEP_NEIGHBOURS_N = 0.10, 4

NUGGET_SHARE = 0.010  # unevenness finer than a hand's breadth
WITHIN_SHARES = (0.035, 0.05, 0.07, 0.10)
LENGTHS_MM = (130.0, 220.0, 370.0)
BETWEEN_SHARES = (0.03, 0.05, 0.08)
SUBSTRATE_SHARE = 0.06  # aluminium panels against steel, both from the works


def covered(height: NDArray[np.float64]) -> NDArray[np.float64]:
    """How far (0-1) a place counts as worked on where a work has this share of its amount."""
    return np.clip((height - COVERED_FROM) / (COVERED_WHOLLY - COVERED_FROM), 0.0, 1.0)


def later_odds() -> float:
    """Prior probability that a panel carries any later work."""
    plain = sum(way.weight for way in LEVEL_WAYS if way.plain)
    return 1 - plain * (1 - LOCAL_ODDS)


def plain_ways() -> NDArray[np.bool_]:
    """Which of the ways leave a panel as the works left it."""
    return np.array([way.plain for way in LEVEL_WAYS])


def odds_times(share: float) -> float:
    """What a panel's odds of every later work are multiplied by, so that ``share`` is its prior."""
    plain = sum(way.weight for way in LEVEL_WAYS if way.plain)
    whole, local = (1 - plain) / plain, LOCAL_ODDS / (1 - LOCAL_ODDS)
    # (1 + whole t)(1 + local t) = 1/(1 − share)
    half, both = (whole + local) / 2, whole * local
    return (math.sqrt(half**2 + both * share / (1 - share)) - half) / both


def patch_odds(times: float = 1.0) -> NDArray[np.float64]:
    """Prior probability of 0, 1, … local works on a panel, any being ``times`` as likely."""
    odds = times * LOCAL_ODDS / (1 - LOCAL_ODDS)
    more = ANOTHER_ODDS ** np.arange(PATCHES_MOST)
    more *= odds / (1 + odds) / more.sum()
    return np.concatenate([[1 / (1 + odds)], more])
