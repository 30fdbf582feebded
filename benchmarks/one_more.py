"""What one reading more costs against reading the whole survey anew.

Run with ``python -m benchmarks.one_more [cars]``. Cars of 13 panels and some 390 spots are read
cold, then six times with a spot more, each at the end of what was read before.
"""

from __future__ import annotations

import sys
import time

import numpy as np
from benchmarks.cars import Car, make_car

from asfound.measure.film import FilmSurvey, read_film

FIRST_SEED = 1_710_000
PANELS_N, DENSE, TOUCHED = 13, 22, 0.4
MORE = 6
AIM_S = 0.3


def main() -> None:
    """Prints seconds of processor of both, and their ratio."""
    cars_n = int(sys.argv[1]) if len(sys.argv) > 1 else 16
    cold, more = [], []
    for i in range(cars_n):
        car = make_car(FIRST_SEED + i, panels_n=PANELS_N, touched=TOUCHED, dense_n=DENSE)
        first, *rest = [seconds(survey) for survey in growing(car, seed=i)]
        cold.append(first)
        more += [each / first for each in rest]
        late = sum(each > AIM_S for each in rest)
        more_s = f"one more {np.median(rest):.3f} s, {late} of {MORE} above {AIM_S} s"
        print(f"car {i}: cold {first:.2f} s, {more_s}")
    print(f"cold: {np.median(cold):.2f} s in the median, {max(cold):.2f} s at most")
    print(f"one more / cold: {np.median(more):.3f} in the median, {max(more):.2f} at most")


def growing(car: Car, *, seed: int) -> list[FilmSurvey]:
    """The survey without its last few spots, drawn at random, and then with one after another."""
    rows = car.survey.readings
    spots = sorted({(row.panel, row.spot) for row in rows})
    rng = np.random.Generator(np.random.PCG64(seed))
    last = [spots[k] for k in rng.choice(len(spots), MORE, replace=False)]
    return [
        FilmSurvey(
            panels=car.survey.panels,
            readings=tuple(row for row in rows if (row.panel, row.spot) not in last[known:]),
            shims=car.survey.shims,
        )
        for known in range(MORE + 1)
    ]


def seconds(survey: FilmSurvey) -> float:
    """Processor time of one reading."""
    start = time.process_time()
    read_film(survey)
    return time.process_time() - start


if __name__ == "__main__":
    main()
