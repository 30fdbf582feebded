"""Gauge readings of the invented car: what two gauges would show on a finish with a past."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray
from shapely import Point, Polygon, contains_xy

from asfound.demo.panels import Drawn
from asfound.demo.written import Rows

Floats = NDArray[np.float64]

_LEVEL_UM = 472.0
_BETWEEN, _WITHIN, _FINE = 0.035, 0.055, 0.012
"""Unevenness by hand: panel to panel, over some hundred mm, and from spot to spot; of the level."""
_REACH_MM = 260.0
_EDGE_MM = 38.0
_SPOTS_LEAST, _SPOTS_MOST, _SPOTS_A_M2 = 6, 13, 6.5
_GROUND_MM, _SETTLING_ROUNDS = 14.0, 25
_SHIMS_UM = (0.0, 51.0, 127.0, 249.0, 508.0, 1_016.0, 1_985.0)
_SHIM_ROUNDS = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class _Gauge:
    """A gauge as it is: what it shows is offset + slope · film, with noise."""

    name: str
    offset_um: float
    slope: float
    noise_um: float


_GAUGES = (
    _Gauge(name="gauge 1", offset_um=3.5, slope=1.021, noise_um=3.2),
    _Gauge(name="gauge 2", offset_um=-6.0, slope=0.986, noise_um=4.5),
)


_SECOND_GAUGE = ("right", "rear")
"""Sections that the second person read with the second gauge."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _LaterWork:
    """A deed on one panel: the film afterwards from the film before, and where it lies."""

    after: Callable[[Floats, Floats, Floats], Floats]
    looked_closer: tuple[tuple[float, float], ...] = ()


def _patch(
    x: Floats, y: Floats, *, at: tuple[float, float], reach: float, feather: float
) -> Floats:
    """1 within a patch, 0 outside, blown out over the feathered edge."""
    away = np.hypot(x - at[0], y - at[1])
    share: Floats = np.clip((reach + feather - away) / feather, 0, 1)
    return share


def _blown_in(film: Floats, x: Floats, y: Floats) -> Floats:
    after: Floats = film + 135.0 * _patch(x, y, at=(330, 290), reach=210, feather=110)
    return after


def _filled(film: Floats, x: Floats, y: Floats) -> Floats:
    over = 120.0 * _patch(x, y, at=(610, 270), reach=260, feather=90)
    filler = 880.0 * _patch(x, y, at=(610, 270), reach=70, feather=110) ** 1.5
    after: Floats = film + over + filler
    return after


def _stripped(film: Floats, x: Floats, y: Floats) -> Floats:
    after: Floats = 236.0 + 0.25 * (film - film.mean()) + 0.01 * (y - y.mean())
    return after


def _polished(film: Floats, x: Floats, y: Floats) -> Floats:
    """The front edge, where polish is wiped on by everyone who passes."""
    after: Floats = film * (1 - 0.36 * np.clip(1 - x / 300.0, 0, 1) ** 0.7)
    return after


_LATER_WORK = {
    "right rear wing": _LaterWork(
        after=_blown_in, looked_closer=((330, 290), (250, 220), (420, 350), (430, 210), (520, 290))
    ),
    "left door": _LaterWork(
        after=_filled,
        looked_closer=((610, 270), (560, 220), (670, 230), (600, 340), (700, 330)),
    ),
    "left front wing": _LaterWork(after=_stripped),
    "bonnet": _LaterWork(
        after=_polished,
        looked_closer=((60, 400), (60, 562), (60, 724), (150, 480), (150, 644)),
    ),
}


def shim_rows(rng: Generator) -> Rows:
    """Rows of ``shims.csv``: each gauge on bare metal and on certified foils."""
    return [
        {
            "gauge": gauge.name,
            "nominal_um": f"{nominal:.0f}",
            "read_um": f"{_shown(gauge, nominal, rng):.0f}",
            "taken_at": f"2024-03-0{4 + turn // 2}",
        }
        for gauge in _GAUGES
        for turn in range(_SHIM_ROUNDS)
        for nominal in _SHIMS_UM
    ]


def film_rows(panels: tuple[Drawn, ...], rng: Generator) -> Rows:
    """Rows of ``film.csv``: three readings a spot."""
    table: Rows = []
    for drawn in panels:
        places = _spots(drawn)
        film = _film_um(drawn.panel, places, rng)
        for turn, ((x, y), film_um) in enumerate(zip(places, film, strict=True), start=1):
            gauge = _GAUGES[drawn.section in _SECOND_GAUGE]
            table += [
                {
                    "panel": drawn.panel,
                    "spot": f"{turn:02d}",
                    "x_mm": f"{x:.0f}",
                    "y_mm": f"{y:.0f}",
                    "thickness_um": f"{_shown(gauge, film_um, rng):.0f}",
                    "gauge": gauge.name,
                    "taken_at": "2024-03-05",
                    "by": "Wenna Tolk" if gauge is _GAUGES[0] else "Bram Ostler",
                }
                for _ in range(3)
            ]
    return table


def _shown(gauge: _Gauge, film_um: float, rng: Generator) -> float:
    noise = rng.normal(0, gauge.noise_um + 0.004 * film_um)
    return max(0.0, gauge.offset_um + gauge.slope * film_um + noise)


def _film_um(panel: str, places: list[tuple[float, float]], rng: Generator) -> Floats:
    x, y = np.array(places).T
    apart = np.hypot(x[:, None] - x, y[:, None] - y)
    cover = (_WITHIN * _LEVEL_UM) ** 2 * np.exp(-0.5 * (apart / _REACH_MM) ** 2)
    cover += (_FINE * _LEVEL_UM) ** 2 * np.eye(len(x))
    level = _LEVEL_UM * (1 + rng.normal(0, _BETWEEN))
    film = level + np.linalg.cholesky(cover) @ rng.normal(size=len(x))
    deed = _LATER_WORK.get(panel)
    after: Floats = film if deed is None else deed.after(film, x, y)
    return after


def _spots(drawn: Drawn) -> list[tuple[float, float]]:
    """An even spread inside the panel's edge, and a closer look where the eye saw something."""
    inner = drawn.outline.buffer(-_EDGE_MM)
    count = round(_SPOTS_LEAST - 1 + _SPOTS_A_M2 * drawn.outline.area / 1e6)
    places = _spread(inner, count=min(max(count, _SPOTS_LEAST), _SPOTS_MOST))
    closer = _LATER_WORK[drawn.panel].looked_closer if drawn.panel in _LATER_WORK else ()
    for place in closer:
        if inner.covers(Point(place)) and all(_apart(place, other) > 45 for other in places):
            places.append(place)
    return places


def _apart(a: tuple[float, float], b: tuple[float, float]) -> float:
    return float(np.hypot(a[0] - b[0], a[1] - b[1]))


def _spread(inner: Polygon, *, count: int) -> list[tuple[float, float]]:
    """Spots spread evenly: each is the middle of the ground that lies nearest to it."""
    ground = _ground(inner)
    middles = ground[_far_apart(ground, count)]
    for _ in range(_SETTLING_ROUNDS):
        nearest = _distances(ground, middles).argmin(axis=1)
        middles = np.array([ground[nearest == turn].mean(axis=0) for turn in range(count)])
    places = ground[_distances(ground, middles).argmin(axis=0)]
    return sorted((float(x), float(y)) for x, y in places)


def _ground(inner: Polygon) -> Floats:
    """Points on a grid of whole mm inside the panel's edge."""
    left, top, right, bottom = inner.bounds
    x, y = np.meshgrid(
        np.arange(np.ceil(left), right, _GROUND_MM), np.arange(np.ceil(top), bottom, _GROUND_MM)
    )
    inside = contains_xy(inner, x, y)
    return np.column_stack([x[inside], y[inside]])


def _far_apart(ground: Floats, count: int) -> list[int]:
    """Points of which each next one is the farthest from all before."""
    chosen = [0]
    away = _distances(ground, ground[:1])[:, 0]
    while len(chosen) < count:
        chosen.append(int(away.argmax()))
        away = np.minimum(away, _distances(ground, ground[chosen[-1:]])[:, 0])
    return chosen


def _distances(ground: Floats, middles: Floats) -> Floats:
    apart: Floats = np.linalg.norm(ground[:, None] - middles[None], axis=2)
    return apart
