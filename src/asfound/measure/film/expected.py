"""What a reading at a place is expected to tell about the verdict elsewhere on a panel."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.special import ndtr

from asfound.measure.film import priors
from asfound.measure.film.shapes import Shapes

Floats = NDArray[np.float64]
PLAIN_SIGHT = 2.0  # standard deviations by which a reading must rise to show a work
PANEL_SHARE = 0.12  # what the verdict on the panel counts beside the map; film.md
MOST = 0.95  # works that shut each other out are taken one by one; their sum stays below one


@dataclass(frozen=True, slots=True, eq=False)
class Expected:
    """Information (c,) [bit] and the share (c, c) of the second place's that the first tells."""

    gain_bits: Floats
    same: Floats


def of_met_works(weight: Floats, mean_um: Floats, sd_um: Floats, later: Floats) -> Expected:
    """What readings at c places tell about works that spots have met.

    Parameters
    ----------
    weight : array, shape (s,)
        Of every history.
    mean_um, sd_um : array, shape (s, c)
        The reading that each history foretells, and its doubt.
    later : array, shape (s, m)
        Each history's verdict, 0 or 1, at places of the map.

    Notes
    -----
    The mean over places of r² H: the entropy H of the verdict times the share r² of its variance
    that a straight line in the reading explains. Among s histories some r² comes about by
    chance, as among any s points; that much is taken off (adjusted r²). The full expectation over
    imagined readings takes every history for a fact of its own, and so promises far more than
    is found when histories are few and outlines differ by a little.
    """
    p = weight @ later
    away = mean_um - weight @ mean_um
    of_means = weight @ away**2
    of_readings = of_means + weight @ sd_um**2
    across = (away * weight[:, None]).T @ (later - p)
    r2 = across**2 / (of_readings[:, None] * np.maximum(p * (1 - p), 1e-9))
    by_chance = float(weight @ weight) * (of_means / of_readings)[:, None]
    r2 = np.clip(r2 - by_chance * (1 - r2), 0.0, 1.0)
    alike = (away * weight[:, None]).T @ away / np.sqrt(np.outer(of_means, of_means) + 1e-9)
    return Expected((r2 * entropy_bits(p)).mean(axis=1), np.minimum(alike**2, 1.0))


@dataclass(frozen=True, slots=True, eq=False)
class UnmetWorks:
    """Works (e,) that no spot has met: how many of each are expected, shape and amount [µm]."""

    expected_n: Floats
    shape: NDArray[np.int64]
    mean_um: Floats
    var: Floats


def of_unmet_works(
    works: UnmetWorks,
    shapes: Shapes,
    *,
    at_mm: Floats,
    nodes_mm: Floats,
    sd_um: Floats,
    p_later: Floats,
    p_touched: float,
) -> Expected:
    """What readings at ``at_mm`` (c, 2) tell about works that no spot has met yet.

    Parameters
    ----------
    works : UnmetWorks
    shapes : Shapes
    at_mm, nodes_mm : array, shapes (c, 2) and (m, 2)
        Places of readings, and those of the map at which the verdict is weighed.
    sd_um : array, shape (c,)
        Doubt of a reading where nothing unmet lies.
    p_later : array, shape (m,)
        Probability of later work as far as spots have met it.
    p_touched : float
        The same for the panel as a whole.

    Notes
    -----
    A reading shows a work or does not; it shows it where the work's amount there exceeds two
    standard deviations. All works are summed, none drawn, so that it is not left to chance which
    gap between spots comes first. What it tells of the verdict on the panel as a whole is added,
    counted as :data:`PANEL_SHARE` of what it tells of the whole map.
    """
    if not works.shape.size:
        return Expected(np.zeros(len(at_mm)), np.eye(len(at_mm)))
    used, which = np.unique(works.shape, return_inverse=True)
    height = shapes.at(np.vstack([at_mm, nodes_mm]), used)[which]
    here, cover = height[:, : len(at_mm)], priors.covered(height[:, len(at_mm) :])
    shown = _shown(works, here, sd_um) * works.expected_n[:, None]
    p_shown = np.minimum(shown.sum(axis=0), MOST)[:, None]
    both = np.minimum(shown.T @ cover, p_shown)
    unmet = np.minimum(works.expected_n @ cover, MOST)

    def doubt(p: Floats) -> Floats:
        return entropy_bits(1 - (1 - p_later) * (1 - np.clip(p, 0.0, 1.0)))

    after = p_shown * doubt(both / np.maximum(p_shown, 1e-12))
    after += (1 - p_shown) * doubt((unmet - both) / (1 - p_shown))
    twice = (shown.T @ _shown(works, here, sd_um)) / np.maximum(p_shown.T, 1e-12)
    gain = np.maximum((doubt(unmet) - after).mean(axis=1), 0.0)
    gain += PANEL_SHARE * _of_panel(works, p_shown[:, 0], p_touched)
    return Expected(gain, np.clip(twice, 0.0, 1.0))


def _of_panel(works: UnmetWorks, p_shown: Floats, p_touched: float) -> Floats:
    """What readings (c,) that show a work with ``p_shown`` tell of the panel's verdict [bit]."""
    unmet = min(float(works.expected_n.sum()), MOST)
    left = np.clip((unmet - p_shown) / (1 - p_shown), 0.0, 1.0)
    before = entropy_bits(np.array(1 - (1 - p_touched) * (1 - unmet)))
    after = (1 - p_shown) * entropy_bits(1 - (1 - p_touched) * (1 - left))
    return np.asarray(np.maximum(before - after, 0.0))


def _shown(works: UnmetWorks, here: Floats, sd_um: Floats) -> Floats:
    """Probability (e, c) that a reading shows each work whose height (0–1) is ``here``."""
    rise = works.mean_um[:, None] * here
    spread = np.sqrt(works.var[:, None] * here**2 + sd_um**2)
    return np.asarray(ndtr((rise - PLAIN_SIGHT * sd_um) / spread) * (here > 0))


def entropy_bits(p: Floats) -> Floats:
    """Entropy [bit] of a verdict with probability ``p``."""
    p = np.clip(p, 1e-6, 1 - 1e-6)
    return np.asarray(-(p * np.log2(p) + (1 - p) * np.log2(1 - p)))
