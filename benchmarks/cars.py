"""Invented surveyed cars whose true state is known, seeded and varied on purpose."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon, affinity

from asfound.measure.film import FilmSurvey, Panel, Reading, ShimReading

SHIMS_UM = (0.0, 50.0, 125.0, 250.0, 500.0, 1000.0)


@dataclass(slots=True)
class PanelTruth:
    """What was done to a panel: whole-panel work, local shapes, and the truth at each spot."""

    kind: str = ""
    shapes: list[Polygon] = field(default_factory=list)
    later: NDArray[np.bool_] = field(default_factory=lambda: np.zeros(0, bool))

    @property
    def touched(self) -> bool:
        return bool(self.kind) or bool(self.shapes)


@dataclass(slots=True)
class Car:
    """A survey and its truth by panel."""

    survey: FilmSurvey
    truth: dict[str, PanelTruth]
    level_um: float


@dataclass(frozen=True, slots=True)
class Finish:
    """How the works painted this car."""

    level_um: float
    within: float
    between: float
    length_mm: float
    rough: bool


def make_car(
    seed: int,
    *,
    level_um: float | None = None,
    touched: float | None = None,
    panels_n: int | None = None,
    dense_n: int | None = None,
) -> Car:
    """One invented car; with ``dense_n``, each panel on a regular grid of about so many spots."""
    rng = np.random.Generator(np.random.PCG64(seed))
    finish = Finish(
        level_um=level_um or float(np.exp(rng.uniform(np.log(60), np.log(650)))),
        within=rng.uniform(0.05, 0.10),
        between=rng.uniform(0.03, 0.07),
        length_mm=rng.uniform(150, 400),
        rough=bool(rng.random() < 0.4),
    )
    share = rng.uniform(0, 0.5) if touched is None else touched
    gauge = _Gauge(rng)
    panels, readings, truth = [], [], {}
    for i in range(panels_n or rng.integers(8, 17)):
        panel = Panel(
            panel=f"panel {i:02d}",
            outline=_outline(rng),
            substrate="aluminium" if rng.random() < 0.2 else "steel",
        )
        panels.append(panel)
        points = _layout(rng, panel.outline) if dense_n is None else _dense(panel.outline, dense_n)
        film, truth[panel.panel] = _film(rng, finish, panel.outline, points, rng.random() < share)
        for k, (at, thick) in enumerate(zip(points, film, strict=True)):
            readings += [
                Reading(
                    panel=panel.panel,
                    spot=str(k + 1),
                    x_mm=at[0],
                    y_mm=at[1],
                    thickness_um=gauge.read(rng, thick),
                    gauge="a",
                )
                for _ in range(3)
            ]
    shims = tuple(
        ShimReading(nominal_um=s, read_um=gauge.read(rng, s), gauge="a")
        for s in SHIMS_UM
        for _ in range(3)
    )
    survey = FilmSurvey(panels=tuple(panels), readings=tuple(readings), shims=shims)
    return Car(survey=survey, truth=truth, level_um=finish.level_um)


class _Gauge:
    def __init__(self, rng: np.random.Generator) -> None:
        self.offset = rng.uniform(-6, 6)
        self.slope = rng.uniform(0.96, 1.05)
        self.noise = rng.uniform(0.8, 3.0)
        self.share = rng.uniform(0.0, 0.01)

    def read(self, rng: np.random.Generator, true_um: float) -> float:
        noise = np.hypot(self.noise, self.share * true_um) * rng.standard_normal()
        return float(max(self.offset + self.slope * true_um + noise, 0.0))


def _outline(rng: np.random.Generator) -> Polygon:
    wide, high = rng.uniform(500, 1500), rng.uniform(350, 1200)
    shape = rng.integers(0, 4)
    if shape == 0:
        return shapely.box(0, 0, wide, high)
    if shape == 1:
        return shapely.box(60, 60, wide - 60, high - 60).buffer(60)
    if shape == 2:
        a, b = rng.uniform(0, 0.2, 2) * wide
        return Polygon([(0, 0), (wide, 0), (wide - a, high), (b, high)])
    arch = shapely.Point(wide * rng.uniform(0.35, 0.65), 0).buffer(min(0.25 * wide, 0.5 * high))
    return shapely.box(0, 0, wide, high).difference(arch)


def _layout(rng: np.random.Generator, outline: Polygon) -> NDArray[np.float64]:
    n = int(rng.integers(8, 41))
    inner = outline.buffer(-rng.uniform(15, 45))
    left, low, right, high = inner.bounds
    if rng.random() < 0.6:
        step = np.sqrt(inner.area / n)
        x, y = np.meshgrid(np.arange(left, right, step), np.arange(low, high, step))
        points = np.column_stack([x.ravel(), y.ravel()]) + rng.uniform(0, step / 3, 2)
        points = points + rng.normal(0, step * 0.08, points.shape)
        kept = points[shapely.contains_xy(inner, points[:, 0], points[:, 1])]
    else:
        points = rng.uniform((left, low), (right, high), (4 * n, 2))
        kept = points[shapely.contains_xy(inner, points[:, 0], points[:, 1])][:n]
    return np.round(kept, 0)


def _dense(outline: Polygon, n: int) -> NDArray[np.float64]:
    """About ``n`` spots, evenly spread from edge to edge, none nearer to one than 24 mm."""
    inner = outline.buffer(-25)
    left, low, right, high = inner.bounds
    step = np.sqrt(inner.area / n)
    x, y = np.meshgrid(
        np.linspace(left, right, round((right - left) / step) + 1),
        np.linspace(low, high, round((high - low) / step) + 1),
    )
    points = np.column_stack([x.ravel(), y.ravel()])
    return np.round(points[shapely.contains_xy(outline.buffer(-24), points)], 0)


def _rough(
    rng: np.random.Generator, points: NDArray[np.float64], finish: Finish
) -> NDArray[np.float64]:
    d = np.sqrt(((points[:, None] - points[None]) ** 2).sum(-1)) / finish.length_mm
    k = (1 + np.sqrt(3) * d) * np.exp(-np.sqrt(3) * d) if finish.rough else np.exp(-0.5 * d**2)
    return np.linalg.cholesky(k + 1e-8 * np.eye(len(k))) @ rng.standard_normal(len(k))


def _film(
    rng: np.random.Generator,
    finish: Finish,
    outline: Polygon,
    points: NDArray[np.float64],
    work: bool,
) -> tuple[NDArray[np.float64], PanelTruth]:
    level = finish.level_um * (1 + finish.between * rng.standard_normal())
    film = level * (1 + finish.within * _rough(rng, points, finish))
    truth = PanelTruth(later=np.zeros(len(points), bool))
    if not work:
        return film, truth
    what = rng.choice(6, p=[0.34, 0.18, 0.16, 0.12, 0.12, 0.08])
    if what in (2, 5):
        added = rng.uniform(60, 250) * (1 + rng.uniform(0.05, 0.1) * _rough(rng, points, finish))
        film, truth.kind, truth.later[:] = film + added, "refinished over", True
    if what == 3:
        fresh = rng.uniform(90, 320)
        if abs(fresh / finish.level_um - 1) < 0.15:
            fresh *= 0.6
        film = fresh * (1 + finish.within * _rough(rng, points, finish))
        truth.kind, truth.later[:] = "stripped and refinished", True
    if what == 4:
        film = _polish(rng, outline, points, film, truth)
    if what in (0, 1, 5):
        for _ in range(1 + (rng.random() < 0.25)):
            film = film + _patch(rng, outline, points, truth, filler=what == 1)
    return film, truth


def _polish(
    rng: np.random.Generator,
    outline: Polygon,
    points: NDArray[np.float64],
    film: NDArray[np.float64],
    truth: PanelTruth,
) -> NDArray[np.float64]:
    left, low, right, high = outline.bounds
    side = rng.integers(0, 5)
    x, y = points.T
    dist = (
        [x - left, right - x, y - low, high - y][side]
        if side < 4
        else shapely.distance(outline.exterior, shapely.points(points))
    )
    width, loss = rng.uniform(50, 130), rng.uniform(0.15, 0.45)
    share = loss * np.clip(1.5 - dist / width, 0, 1)
    truth.later |= share > 0.05
    if (share > 0.05).any():
        truth.kind = "polished thin"
    return film * (1 - share)


def _patch(
    rng: np.random.Generator,
    outline: Polygon,
    points: NDArray[np.float64],
    truth: PanelTruth,
    *,
    filler: bool,
) -> NDArray[np.float64]:
    left, low, right, high = outline.bounds
    while True:
        centre = rng.uniform((left, low), (right, high))
        if shapely.contains_xy(outline, *centre):
            break
    radius = rng.uniform(70, min(320, 0.45 * max(right - left, high - low)))
    aspect, turn = rng.uniform(1, 1.9), rng.uniform(0, np.pi)
    soft = bool(rng.random() < 0.3)
    rho = _reach(points, centre, radius, aspect, turn)
    feather = rng.uniform(0.15, 0.5)
    shape = np.exp(-0.69 * rho**4) if soft else _step((1 + feather - rho) / (2 * feather))
    added = rng.uniform(50, 200) * shape
    if filler:
        core = _reach(points, centre + rng.normal(0, 0.15 * radius, 2), 0.55 * radius, aspect, turn)
        uneven = np.exp(0.15 * rng.standard_normal(len(points)))
        added = added + rng.uniform(250, 1900) * _step((1.4 - core) / 0.8) * uneven
    disc = affinity.rotate(
        affinity.scale(shapely.Point(0, 0).buffer(radius), 1, 1 / aspect),
        turn,
        use_radians=True,
        origin=(0, 0),
    )
    truth.shapes.append(affinity.translate(disc, *centre).intersection(outline))
    truth.later |= rho < 1.0
    return added


def _reach(
    points: NDArray[np.float64],
    centre: NDArray[np.float64],
    radius: float,
    aspect: float,
    turn: float,
) -> NDArray[np.float64]:
    away = points - centre
    along = away @ np.array([np.cos(turn), np.sin(turn)])
    across = away @ np.array([-np.sin(turn), np.cos(turn)])
    return np.hypot(along, across * aspect) / radius


def _step(t: NDArray[np.float64]) -> NDArray[np.float64]:
    t = np.clip(t, 0, 1)
    return t * t * (3 - 2 * t)
