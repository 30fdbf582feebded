"""Does a survey that follows the crosses need fewer readings than a regular grid?

Run with ``python -m benchmarks.next_spots [cars]``. Each invented car is read densely once; a
survey then takes spots out of that, either on a regular grid or where the reading so far proposes
the next ones. The score is the Brier score of the map at all dense spots.
"""

from __future__ import annotations

import sys

import numpy as np
from benchmarks.cars import Car, make_car

from asfound.measure.film import FilmReading, FilmSurvey, read_film

FIRST_SEED = 7_100
GRIDS = (4, 6, 9, 12, 16, 20, 25)
START, EACH, ROUNDS = 4, 6, 12
Keep = set[tuple[str, str]]


def main() -> None:
    """Prints both curves: spots a car and Brier score."""
    cars_n = int(sys.argv[1]) if len(sys.argv) > 1 else 8
    cars = [make_car(FIRST_SEED + i, panels_n=6, touched=0.5, dense_n=150) for i in range(cars_n)]
    print(f"{cars_n} invented cars of 6 panels: spots a car, Brier score of the map")
    told = np.array(
        [[(len(keep), score(car, taken(car, keep))) for keep in on_grid_each(car)] for car in cars]
    )
    for spots, brier in told.mean(axis=0):
        print(f"  regular grid  {spots:6.1f}  {brier:.4f}")
    for spots, brier in np.array([follow(car) for car in cars]).mean(axis=0):
        print(f"  crosses       {spots:6.1f}  {brier:.4f}")


def on_grid_each(car: Car) -> list[Keep]:
    """Regular grids, coarse to fine."""
    return [on_grid(car, count) for count in GRIDS]


def taken(car: Car, keep: Keep) -> FilmReading:
    """The reading of the spots kept."""
    rows = tuple(r for r in car.survey.readings if (r.panel, r.spot) in keep)
    part = FilmSurvey(panels=car.survey.panels, readings=rows, shims=car.survey.shims)
    return read_film(part, next_spots_n=EACH)


def places(car: Car, panel: str) -> tuple[list[str], np.ndarray]:
    """The dense spots of a panel and where they lie."""
    rows = {r.spot: (r.x_mm, r.y_mm) for r in car.survey.readings if r.panel == panel}
    return list(rows), np.array(list(rows.values()))


def on_grid(car: Car, count: int) -> Keep:
    """About ``count`` spots a panel, evenly spread."""
    keep: Keep = set()
    for panel in car.survey.panels:
        names, at = places(car, panel.panel)
        low, size = at.min(axis=0), np.ptp(at, axis=0)
        across = max(1, round(np.sqrt(count * size[0] / size[1])))
        up = max(1, round(count / across))
        for x in (np.arange(across) + 0.5) / across:
            for y in (np.arange(up) + 0.5) / up:
                near = ((at - low - size * [x, y]) ** 2).sum(axis=1).argmin()
                keep.add((panel.panel, names[int(near)]))
    return keep


def follow(car: Car) -> list[tuple[int, float]]:
    """Spots and score, round by round, of a survey that goes where the crosses are."""
    keep, curve = on_grid(car, START), []
    for _ in range(ROUNDS):
        reading = taken(car, keep)
        curve.append((len(keep), score(car, reading)))
        for cross in reading.next_spots:
            names, at = places(car, cross.panel)
            away = ((at - [cross.x_mm, cross.y_mm]) ** 2).sum(axis=1)
            away[[(cross.panel, name) in keep for name in names]] = np.inf
            keep.add((cross.panel, names[int(away.argmin())]))
    return curve


def score(car: Car, reading: FilmReading) -> float:
    """Brier score of the map at every dense spot."""
    errors = []
    for panel in reading.panels:
        _, at = places(car, panel.panel)
        surface = panel.surface
        column = np.abs(surface.x_mm - at[:, :1]).argmin(axis=1)
        row = np.abs(surface.y_mm - at[:, 1:]).argmin(axis=1)
        errors.append((surface.p_later_work[row, column] - car.truth[panel.panel].later) ** 2)
    return float(np.nanmean(np.concatenate(errors)))


if __name__ == "__main__":
    main()
