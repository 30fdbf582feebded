"""Where the next spot tells most about whether, and how far, later work lies on a panel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from scipy.special import ndtri

from asfound.measure.field import distances_mm
from asfound.measure.film.maps import Map
from asfound.measure.film.reading import NextSpot
from asfound.measure.film.survey import Panel

Floats = NDArray[np.float64]
CANDIDATES_N = 70
PLACES_N = 90  # of the map, at which the verdict is weighed
HISTORIES_N = 64
DRAWS_N = 24  # readings imagined beyond one a history, shared out by weight
GOLDEN = 0.6180339887498949  # its multiples, modulo one, are spread evenly
EDGE_MM = 25.0  # a probe's width; common practice, readings nearer to an edge run off
GAP_MM = 40.0  # nearer than this a spot is the same spot (SSPC-PA 2: a circle of 4 cm)
APART_MM = 120.0  # about a hand's breadth: crosses nearer to each other tell the same thing


@dataclass(frozen=True, slots=True, eq=False)
class Candidates:
    """Places (c, 2) on one panel and what a spot there is expected to tell [bit].

    ``same`` (c, c) is the share of what one place tells that another has told already.
    """

    panel: str
    points_mm: Floats
    gain_bits: Floats
    same: Floats


def weigh_candidates(
    panel: Panel, points_mm: Floats, spots_mm: Floats, drawn: Map, *, noise_um: float
) -> Candidates:
    """What a spot at some of ``points_mm`` is expected to tell about later work on the panel.

    Notes
    -----
    Mutual information in bits of the reading y at the place and the verdict z (later work or
    not) at places all over the panel, averaged over them: mean of H[z] − E H[z | y]; Lindley,
    Annals of Mathematical Statistics 27 (1956), 986–1005. It counts the verdict on the panel and
    the course of outlines alike. Places too near to the panel's edge for a probe, or to a spot
    already read, are left out. Two places tell the same as far as they are near, or as far as
    the histories that foretell more at one do so at the other (squared correlation).
    """
    places = _free(panel, points_mm, spots_mm)
    order = np.argsort(-drawn.weight, kind="stable")[:HISTORIES_N]
    weight = drawn.weight[order] / drawn.weight[order].sum()
    mean = drawn.means[np.ix_(order, places)]
    sd = np.sqrt(drawn.variances[np.ix_(order, places)] + noise_um**2)
    later = drawn.later[order][:, :: -(-len(points_mm) // PLACES_N)]
    at = points_mm[places]
    near = np.exp(-0.5 * (distances_mm(at, at) / APART_MM) ** 2)
    same = np.maximum(near, _correlation(weight, mean) ** 2)
    return Candidates(panel.panel, at, _information(weight, mean, sd, later), same)


def _free(panel: Panel, points_mm: Floats, spots_mm: Floats) -> NDArray[np.int64]:
    edge = shapely.distance(panel.outline.exterior, shapely.points(points_mm))
    far = edge >= min(EDGE_MM, 0.5 * float(edge.max()))
    if len(spots_mm):
        apart = distances_mm(points_mm, spots_mm).min(axis=1)
        far &= apart >= min(GAP_MM, 0.7 * float(apart[far].max()))
    places = np.flatnonzero(far)
    return np.asarray(places[:: -(-len(places) // CANDIDATES_N)])


def _correlation(weight: Floats, mean: Floats) -> Floats:
    away = mean - weight @ mean
    covariance = (away * weight[:, None]).T @ away
    sd = np.sqrt(np.diag(covariance)) + 1e-9
    return np.asarray(covariance / np.outer(sd, sd))


def _imagined(weight: Floats) -> tuple[NDArray[np.int64], Floats, Floats]:
    """Readings to imagine: whose history, how many of its deviations off, with which weight."""
    counts = 1 + np.floor(weight * DRAWS_N).astype(np.int64)
    whose = np.repeat(np.arange(len(weight)), counts)
    rank = np.arange(len(whose)) - np.repeat(np.cumsum(counts) - counts, counts)
    start = np.mod(0.5 + whose * GOLDEN, 1.0)
    return whose, ndtri((rank + start) / counts[whose]), (weight / counts)[whose]


def _information(weight: Floats, mean: Floats, sd: Floats, later: Floats) -> Floats:
    """Information (c,) from histories' weights (s,), readings (s, c) and verdicts (s, m)."""
    whose, off, share = _imagined(weight)
    # Single precision: what a spot tells is wanted to a few per cent, and it is told quickly.
    read = mean[whose].T + off * sd[whose].T  # (c, t)
    precise = (1 / sd.T).astype(np.float32)[:, None]
    z = ((read[:, :, None] - mean.T[:, None]).astype(np.float32)) * precise
    after = np.exp(-0.5 * z**2) * precise * weight.astype(np.float32)
    after /= np.maximum(after.sum(axis=2, keepdims=True), np.float32(1e-30))
    p = after.reshape(-1, len(weight)) @ later.astype(np.float32)
    left = _entropy_bits(p).mean(axis=1).reshape(len(read), len(share)) @ share
    # The same imagined readings on both sides, so that no place seems to tell less than nothing.
    before = np.einsum("t,ctm->cm", share, p.reshape(len(read), len(share), -1))
    return np.asarray(np.maximum(_entropy_bits(before).mean(axis=1) - left, 0.0), dtype=np.float64)


def _entropy_bits(p: NDArray[np.floating]) -> NDArray[np.floating]:
    p = np.clip(p, 1e-6, 1 - 1e-6)
    return np.asarray(-(p * np.log2(p) + (1 - p) * np.log2(1 - p)))


def choose_next(panels: Sequence[Candidates], *, count: int) -> tuple[NextSpot, ...]:
    """The best ``count`` places, best first, each worth only what those before it left untold."""
    gains = [candidates.gain_bits.copy() for candidates in panels]
    chosen = []
    for _ in range(min(count, sum(map(len, gains)))):
        which = int(np.argmax([gain.max(initial=-1.0) for gain in gains]))
        there, gain = panels[which], gains[which]
        best = int(np.argmax(gain))
        chosen.append(
            NextSpot(
                panel=there.panel,
                x_mm=float(there.points_mm[best, 0]),
                y_mm=float(there.points_mm[best, 1]),
                gain_bits=float(max(gain[best], 0.0)),
            )
        )
        gain[gain > 0] *= 1 - there.same[best][gain > 0]
        gain[best] = -1.0
    return tuple(chosen)
