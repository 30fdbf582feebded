"""Figures of merit of the film reading on invented cars, and the speed of its field step.

Run with ``python -m benchmarks.film [cars]`` from the root. Set OPENBLAS_NUM_THREADS=1 so that
both sides of the comparison use one thread.
"""

from __future__ import annotations

import os
import sys
import time
import warnings
from dataclasses import replace

import numpy as np
import shapely
from benchmarks.cars import Car, make_car
from benchmarks.other_cars import make_other_car
from benchmarks.scores import figures, gather
from sklearn.exceptions import ConvergenceWarning
from sklearn.gaussian_process import GaussianProcessRegressor
from sklearn.gaussian_process.kernels import ConstantKernel, Matern, WhiteKernel

from asfound.measure.field import fit_field
from asfound.measure.film import FilmReading, LaterWorkArea, read_film

FIRST_TEST_SEED = 200_000  # the priors were tuned on seeds 1000 to 4999
FIRST_OTHER_SEED = 300_000  # feathers, bands and outlines were chosen on 520,000 and 620,000
FIELD_ROUNDS = 3


def main() -> None:
    """Prints both comparisons."""
    cars_n = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    compare(f"seeds from {FIRST_TEST_SEED}", [make_car(FIRST_TEST_SEED + i) for i in range(cars_n)])
    others = [make_other_car(FIRST_OTHER_SEED + i) for i in range(cars_n)]
    compare(f"of the other generator, seeds from {FIRST_OTHER_SEED}", others)
    field_step()


def compare(which: str, cars: list[Car]) -> None:
    """Prints the figures of merit of both readings of the same cars."""
    started = time.process_time()
    ours = figures(gather(cars, lambda car: read_film(car.survey)))
    each = (time.process_time() - started) / len(cars)
    rule = figures(gather(cars, twenty_per_cent_rule))
    print(f"{len(cars)} invented cars {which}; {each:.2f} s of processor a car")
    print(f"{'':34}{'asfound':>10}{'20 % above median':>20}")
    for name, value in ours.items():
        print(f"{name:34}{value:10.4f}{rule[name]:20.4f}")
    print()


def twenty_per_cent_rule(car: Car) -> FilmReading:
    """The thumb rule: later work is what lies more than 20 % above the car's median."""
    reading = read_film(car.survey, next_spots_n=0)
    thick = [s.thickness_um for p in reading.panels for s in p.spots]
    limit = 1.2 * float(np.median(thick))
    panels = []
    for panel in reading.panels:
        spots = tuple(replace(s, p_later_work=float(s.thickness_um > limit)) for s in panel.spots)
        above = [s for s in spots if s.p_later_work > 0]
        outline = next(p.outline for p in car.survey.panels if p.panel == panel.panel)
        areas = _around(above, spots, outline)
        share = len(above) / max(len(spots), 1)
        panels.append(replace(panel, spots=spots, areas=areas, p_later_work=share))
    return replace(reading, panels=tuple(panels))


def _around(above: list, spots: tuple, outline: shapely.Polygon) -> tuple[LaterWorkArea, ...]:
    """Each marked spot with the places nearer to it than to any other spot."""
    if not above:
        return ()
    if len(spots) < 2:
        shape = outline
    else:
        points = [(s.x_mm, s.y_mm) for s in spots]
        marked = shapely.MultiPoint([(s.x_mm, s.y_mm) for s in above])
        cells = shapely.voronoi_polygons(shapely.MultiPoint(points), extend_to=outline)
        shape = shapely.union_all([c for c in cells.geoms if c.intersects(marked)])
    cut = shape.intersection(outline)
    pieces = [p for p in getattr(cut, "geoms", [cut]) if p.geom_type == "Polygon"]
    return tuple(LaterWorkArea(kind="local respray", probability=1.0, outline=p) for p in pieces)


def field_step() -> None:
    """Time of fitting 400 readings by likelihood and predicting 5,000 points, ours and theirs."""
    rng = np.random.Generator(np.random.PCG64(7))
    ours_s, theirs_s, gaps, better = [], [], [], []
    for _ in range(FIELD_ROUNDS):
        points, grid, readings, truth = _field_case(rng)
        start = time.perf_counter()
        fitted = fit_field(points_mm=points, values_um=readings, length_limits_mm=(30.0, 2000.0))
        mean, sd = fitted.at(grid)
        ours_s.append(time.perf_counter() - start)
        start = time.perf_counter()
        model = _reference().fit(points, readings)
        mean_2, _ = model.predict(grid, return_std=True)
        theirs_s.append(time.perf_counter() - start)
        gaps.append(fitted.log_likelihood - model.log_marginal_likelihood_value_)
        better.append(np.sqrt(((mean - truth) ** 2).mean() / ((mean_2 - truth) ** 2).mean()))
        assert np.isfinite(sd).all()
    print(f"\nfield of 400 readings to 5,000 points, {FIELD_ROUNDS} rounds,")
    print(f"threads of the linear algebra: {os.environ.get('OPENBLAS_NUM_THREADS', 'not set')}")
    print(f"  scikit-learn / asfound, time: {np.median(np.divide(theirs_s, ours_s)):.1f} times")
    print(f"  asfound / scikit-learn, error against truth: {np.mean(better):.4f}")
    print(f"  log likelihood, asfound − scikit-learn: {np.round(gaps, 4).tolist()}")


def _field_case(rng: np.random.Generator) -> tuple[np.ndarray, ...]:
    points = rng.uniform(0, 1500, (400, 2))
    x, y = np.meshgrid(np.linspace(0, 1500, 100), np.linspace(0, 1500, 50))
    grid = np.column_stack([x.ravel(), y.ravel()])
    waves = rng.normal(0, 1 / 250, (60, 2))
    phase, height = rng.uniform(0, 2 * np.pi, 60), rng.normal(0, 9 / np.sqrt(30), 60)
    truth = np.cos(grid @ waves.T + phase) @ height
    readings = np.cos(points @ waves.T + phase) @ height + rng.normal(0, 2, 400)
    return points, grid, readings, truth


def _reference() -> GaussianProcessRegressor:
    kernel = ConstantKernel(50.0, (1e-2, 1e5)) * Matern(200.0, (30.0, 2000.0), nu=2.5)
    warnings.simplefilter("ignore", ConvergenceWarning)
    return GaussianProcessRegressor(kernel + WhiteKernel(4.0, (1e-4, 1e4)), random_state=0)


if __name__ == "__main__":
    main()
