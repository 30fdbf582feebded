"""Where the next spot tells most about whether later work lies there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from asfound.measure.field import distances_mm
from asfound.measure.film.maps import Map
from asfound.measure.film.reading import NextSpot
from asfound.measure.film.survey import Panel

Floats = NDArray[np.float64]
CANDIDATES_N = 90
HISTORIES_N = 64
STEPS_N = 72
EDGE_MM = 25.0  # a probe's width; common practice, readings nearer to an edge run off
GAP_MM = 40.0  # nearer than this a spot is the same spot (SSPC-PA 2: a circle of 4 cm)
APART_MM = 180.0  # crosses nearer than this to each other would tell the same thing


@dataclass(frozen=True, slots=True, eq=False)
class Candidates:
    """Places on one panel and what a spot there is expected to tell [bit]."""

    panel: str
    points_mm: Floats
    gain_bits: Floats


def weigh_candidates(
    panel: Panel, points_mm: Floats, spots_mm: Floats, drawn: Map, *, noise_um: float
) -> Candidates:
    """What a spot at some of ``points_mm`` is expected to tell about later work there [bit].

    Notes
    -----
    Mutual information of the verdict z at the place (later work or not) and the reading y:
    H[y] − Σ_z p(z) H[y | z], where every density is a mixture over the panel's histories and
    every entropy H a sum over steps of y; Lindley, Annals of Mathematical Statistics 27 (1956),
    986–1005. Places too near to the panel's edge for a probe, or to a spot already read, are
    left out.
    """
    edge = shapely.distance(panel.outline.exterior, shapely.points(points_mm))
    far = edge >= min(EDGE_MM, 0.5 * float(edge.max()))
    if len(spots_mm):
        apart = distances_mm(points_mm, spots_mm).min(axis=1)
        far &= apart >= min(GAP_MM, 0.7 * float(apart[far].max()))
    places = np.flatnonzero(far)
    places = places[:: -(-len(places) // CANDIDATES_N)]
    order = np.argsort(-drawn.weight, kind="stable")[:HISTORIES_N]
    weight = drawn.weight[order] / drawn.weight[order].sum()
    mean = drawn.means[np.ix_(order, places)]
    variance = drawn.variances[np.ix_(order, places)] + noise_um**2
    later = drawn.later[np.ix_(order, places)]
    gain = _information(weight, mean, variance, later)
    return Candidates(panel.panel, points_mm[places], gain)


def _information(weight: Floats, mean: Floats, variance: Floats, later: Floats) -> Floats:
    sd = np.sqrt(variance)
    low, high = (mean - 5 * sd).min(axis=0), (mean + 5 * sd).max(axis=0)
    # Even steps alone would be coarse where the parts lie close; a few more follow the parts.
    share = np.linspace(0, 1, STEPS_N)[:, None]
    among = np.quantile(mean, np.linspace(0, 1, STEPS_N // 3), axis=0)
    steps = np.sort(np.concatenate([low + share * (high - low), among]), axis=0)
    z = (steps[:, None] - mean[None]) / sd[None]
    each = np.exp(-0.5 * z**2) / (sd * np.sqrt(2 * np.pi))
    gain = _entropy_bits(each, steps, np.broadcast_to(weight[:, None], later.shape))
    for of_verdict in (weight[:, None] * later, weight[:, None] * (1 - later)):
        gain = gain - of_verdict.sum(axis=0) * _entropy_bits(each, steps, of_verdict)
    return np.asarray(np.maximum(gain, 0.0))


def _entropy_bits(each: Floats, steps: Floats, weight: Floats) -> Floats:
    """Entropy (c,) of mixtures of densities (t, s, c) with weights (s, c) over steps (t, c)."""
    share = weight / np.maximum(weight.sum(axis=0), 1e-12)
    density = np.einsum("sc,tsc->tc", share, each)
    inside = -density * np.log2(np.maximum(density, 1e-300))
    return np.asarray((0.5 * (inside[1:] + inside[:-1]) * np.diff(steps, axis=0)).sum(axis=0))


def choose_next(panels: Sequence[Candidates], *, count: int) -> tuple[NextSpot, ...]:
    """The best ``count`` places, best first, each making its neighbourhood less worth a cross."""
    if not panels or count < 1:
        return ()
    owner = np.concatenate([np.full(len(c.points_mm), i) for i, c in enumerate(panels)])
    points = np.vstack([c.points_mm for c in panels])
    gain = np.concatenate([c.gain_bits for c in panels])
    chosen = []
    for _ in range(min(count, len(gain))):
        best = int(np.argmax(gain))
        chosen.append(
            NextSpot(
                panel=panels[owner[best]].panel,
                x_mm=float(points[best, 0]),
                y_mm=float(points[best, 1]),
                gain_bits=float(max(gain[best], 0.0)),
            )
        )
        d2 = ((points - points[best]) ** 2).sum(axis=1)
        near = np.exp(-0.5 * d2 / APART_MM**2)
        gain = np.where(owner == owner[best], gain * (1 - near), gain)
        gain[best] = -1.0
    return tuple(chosen)
