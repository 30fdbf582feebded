"""The reading of a finish, from survey to map."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.measure.film.car import CarLevel, Habits
from asfound.measure.film.car_level import (
    car_level,
    find_habits,
    level_curves,
)
from asfound.measure.film.gauges import corrections, gauge_lines
from asfound.measure.film.panel_read import PanelCase, make_case, read_panel
from asfound.measure.film.reading import FilmReading
from asfound.measure.film.spots import gather_spots
from asfound.measure.film.steady import steady_share
from asfound.measure.film.survey import FilmSurvey
from asfound.measure.film.touched import later_shares
from asfound.measure.film.where_next import choose_next

FIRST_HABITS = Habits(within=0.07, length_mm=220.0, between=0.05)


def read_film(
    survey: FilmSurvey,
    *,
    seed: int = 0,
    next_spots_n: int = 8,
    progress: Callable[[float], None] | None = None,
) -> FilmReading:
    """Where the finish carries later work, how sure that is, and where to measure next.

    Parameters
    ----------
    survey : FilmSurvey
        Panels, readings [µm] and shims; the order of rows does not matter.
    seed : int
        Seed of the draws over histories; the same input and seed give the same reading.
    next_spots_n : int
        How many places to propose.
    progress : callable, optional
        Called with the share done (0–1) after each panel.

    Raises
    ------
    NotEnoughEvidenceError
        If there is no reading at all.
    InputError
        If a reading names an unknown panel or is not finite.

    Notes
    -----
    Every panel is judged against the car's own level, not against a table. A car refinished as a
    whole looks undisturbed; one panel alone has nothing to be judged against, and the answer
    then stays near the prior. How the model reasons: docs/explanation/film.md.

    What was worked out for the last panels read is kept in memory by all that it depends on, so
    that one more reading costs little more than the panel it lies on. The answer is the same.
    """
    lines = gauge_lines(survey)
    spots = gather_spots(survey, lines)
    if not spots:
        raise NotEnoughEvidenceError("No gauge readings: the finish cannot be read.")
    panels = sorted(survey.panels, key=lambda panel: panel.panel)
    named = tuple(sorted(lines.items()))
    cases = [make_case(p, tuple(s for s in spots if s.panel == p.panel), named) for p in panels]
    levels, whole, habits, shares = _car(cases)
    readings, candidates = [], []
    for place, (case, level) in enumerate(zip(cases, levels, strict=True)):
        held = level.steady(place), habits.steady(place), steady_share(shares[place], place)
        reading, places = read_panel(case, *held, (seed, place + 1))
        readings.append(reading)
        candidates.append(places)
        if progress is not None:
            progress((place + 1) / len(cases))
    return FilmReading(
        level_um=Estimate(value=whole.value_um, u=whole.value_u_um),
        gauges=corrections(lines, level_um=whole.value_um),
        panels=tuple(readings),
        next_spots=choose_next(candidates, count=next_spots_n),
    )


def _car(cases: Sequence[PanelCase]) -> tuple[list[CarLevel], CarLevel, Habits, list[float]]:
    """What each panel is held against, the car's level, its habits, and each panel's prior."""
    sketches = [case.sketch for case in cases]
    kinds = np.array([case.panel.substrate for case in cases])
    known = np.array([len(case.spots) > 0 for case in cases])
    first = car_level(level_curves(sketches, FIRST_HABITS), alike=known)
    habits = find_habits([s for s, k in zip(sketches, known, strict=True) if k], first)
    curves = level_curves(sketches, habits)
    levels = []
    for i, kind in enumerate(kinds):
        rest = known & (np.arange(len(cases)) != i)
        levels.append(
            car_level(curves, alike=rest & (kinds == kind), others=rest & (kinds != kind))
        )
    spots = {k: sum(len(c.spots) for c in cases if c.panel.substrate == k) for k in set(kinds)}
    main = max(sorted(spots), key=lambda k: spots[k])
    whole = car_level(curves, alike=known & (kinds == main), others=known & (kinds != main))
    return levels, whole, habits, later_shares(curves, levels)
