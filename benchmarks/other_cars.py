"""Invented cars of a second generator, written apart from ``cars.py``.

The same ranges, another world: rectangles that are a little askew, spots on a shaken grid, one
work a panel or two, works met by spots more often than not.
"""

from __future__ import annotations

import numpy as np
from benchmarks.cars import SHIMS_UM, Car, PanelTruth
from numpy.typing import NDArray
from shapely import Point, Polygon

from asfound.measure.film import FilmSurvey, Panel, Reading, ShimReading

Floats = NDArray[np.float64]
KINDS, SHARES = ("local", "filler", "over", "stripped", "thin"), (0.35, 0.2, 0.2, 0.1, 0.15)


def make_other_car(seed: int) -> Car:
    """One invented car of 9 to 15 panels."""
    rng = np.random.default_rng(seed)
    level = float(np.exp(rng.uniform(np.log(60), np.log(650))))
    within, between, length = rng.uniform(0.05, 0.1), rng.uniform(0.03, 0.07), rng.uniform(150, 400)
    offset, slope = rng.normal(0, 3), 1 + rng.normal(0, 0.02)
    noise = max(1, 0.01 * level) * rng.uniform(0.5, 1.5)
    panels, readings, truth = [], [], {}
    panels_n, touched = int(rng.integers(9, 16)), rng.uniform(0, 0.5)
    for i in range(panels_n):
        name, outline = f"p{i:02d}", _outline(rng)
        substrate = "aluminium" if rng.random() < 0.15 else "steel"
        panels.append(Panel(panel=name, outline=outline, substrate=substrate))
        at = _spots(rng, outline)
        unevenness = within * _unevenness(rng, at, length)
        film = level * (1 + between * rng.normal()) * (1 + unevenness)
        done = PanelTruth(later=np.zeros(len(at), dtype=bool))
        if rng.random() < touched:
            film = _worked_on(rng, film, at, outline, level, done)
        truth[name] = done
        for k, (place, um) in enumerate(zip(at, np.maximum(film, 2), strict=True)):
            readings += [
                Reading(
                    panel=name,
                    spot=str(k + 1),
                    x_mm=float(place[0]),
                    y_mm=float(place[1]),
                    thickness_um=max(0.0, float(offset + slope * um + rng.normal(0, noise))),
                    gauge="g",
                )
                for _ in range(3)
            ]
    shims = tuple(
        ShimReading(
            nominal_um=um, read_um=float(offset + slope * um + rng.normal(0, noise)), gauge="g"
        )
        for um in SHIMS_UM
        for _ in range(4)
    )
    survey = FilmSurvey(panels=tuple(panels), readings=tuple(readings), shims=shims)
    return Car(survey=survey, truth=truth, level_um=level)


def _outline(rng: np.random.Generator) -> Polygon:
    w, h = rng.uniform(500, 1400), rng.uniform(350, 1100)
    return Polygon(
        [
            (0, 0),
            (w, rng.uniform(0, 0.1) * h),
            (w * rng.uniform(0.9, 1), h),
            (rng.uniform(0, 0.1) * w, h * rng.uniform(0.9, 1)),
        ]
    )


def _spots(rng: np.random.Generator, outline: Polygon) -> Floats:
    """A grid of 10 to 32 places, each shaken by 15 mm, as far as they lie on the panel."""
    _, _, w, h = outline.bounds
    n = int(rng.integers(10, 32))
    columns = max(2, round(np.sqrt(n * w / h)))
    rows = max(2, round(n / columns))
    inner, found = outline.buffer(-10), []
    for a in range(columns):
        for b in range(rows):
            place = np.array([(a + 0.5) / columns * w, (b + 0.5) / rows * h])
            place = place + rng.normal(0, 15, 2)
            if inner.contains(Point(place)):
                found.append(place)
    return np.array(found)


def _unevenness(rng: np.random.Generator, at: Floats, length_mm: float) -> Floats:
    apart = np.linalg.norm(at[:, None] - at[None], axis=2) / length_mm
    smooth = np.exp(-0.5 * apart**2)
    rough = (1 + np.sqrt(3) * apart) * np.exp(-np.sqrt(3) * apart)
    kernel = smooth if rng.random() < 0.5 else rough
    return np.linalg.cholesky(kernel + 1e-8 * np.eye(len(at))) @ rng.normal(size=len(at))


def _worked_on(
    rng: np.random.Generator,
    film: Floats,
    at: Floats,
    outline: Polygon,
    level_um: float,
    done: PanelTruth,
) -> Floats:
    kind = rng.choice(KINDS, p=SHARES)
    if kind in ("local", "filler"):
        for _ in range(1 if rng.random() < 0.75 else 2):
            film = film + _local(rng, at, outline, done, filler=kind == "filler")
        if not done.later.any():
            done.shapes = []  # no spot met it: nothing to be drawn
        return film
    if kind == "thin":
        from_edge = np.array([outline.exterior.distance(Point(place)) for place in at])
        width, cut = rng.uniform(50, 130), rng.uniform(0.2, 0.45)
        done.kind, done.later = "thin", from_edge < 0.75 * width
        return film * (1 - cut * np.minimum(1, 2 * np.clip(1 - from_edge / width, 0, 1)))
    done.kind, done.later = str(kind), np.ones(len(at), dtype=bool)
    if kind == "over":
        return film + rng.uniform(50, 200) * (1 + 0.08 * rng.normal(size=len(at)))
    new = level_um
    while abs(np.log(new / level_um)) < 0.2:
        new = float(np.exp(rng.uniform(np.log(60), np.log(650))))
    return film / film.mean() * new


def _local(
    rng: np.random.Generator, at: Floats, outline: Polygon, done: PanelTruth, *, filler: bool
) -> Floats:
    """Film added by a turned, feathered ellipse, with filler in its middle if asked."""
    _, _, w, h = outline.bounds
    middle = np.array([rng.uniform(0.1, 0.9) * w, rng.uniform(0.1, 0.9) * h])
    radii, turn = rng.uniform(120, 380, 2), rng.uniform(0, np.pi)
    axes = np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
    rho = np.linalg.norm((at - middle) @ axes.T / radii, axis=1)
    feather = rng.uniform(0.15, 0.5)
    share = np.clip((1 + feather / 2 - rho) / feather, 0, 1)
    added = rng.uniform(50, 200) * share**2 * (3 - 2 * share)
    if filler:
        added = added + rng.uniform(300, 2000) * np.clip(1.2 - rho / 0.55, 0, 1)
    round_about = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    ring = np.column_stack([np.cos(round_about), np.sin(round_about)]) * radii @ axes + middle
    shape = Polygon(ring).intersection(outline)
    if shape.area > 0:
        done.shapes.append(shape)
    done.later |= rho < 1
    return added
