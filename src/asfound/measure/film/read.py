"""The reading of a finish, from survey to map."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.measure.film import priors
from asfound.measure.film.car_level import (
    CarLevel,
    Habits,
    find_habits,
    find_level,
)
from asfound.measure.film.gauges import corrections, gauge_lines
from asfound.measure.film.panel_read import PanelCase, make_case, read_panel
from asfound.measure.film.reading import FilmReading
from asfound.measure.film.spots import gather_spots
from asfound.measure.film.survey import FilmSurvey
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
    """
    lines = gauge_lines(survey)
    spots = gather_spots(survey, lines)
    if not spots:
        raise NotEnoughEvidenceError("No gauge readings: the finish cannot be read.")
    panels = sorted(survey.panels, key=lambda panel: panel.panel)
    cases = [make_case(p, [s for s in spots if s.panel == p.panel], lines) for p in panels]
    levels, habits = _car(cases)
    readings, candidates = [], []
    for done, case in enumerate(cases, start=1):
        rng = np.random.Generator(np.random.PCG64([seed, done]))
        reading, places = read_panel(case, levels[case.panel.substrate], habits, rng)
        readings.append(reading)
        candidates.append(places)
        if progress is not None:
            progress(done / len(cases))
    level = _main_level(cases, levels)
    return FilmReading(
        level_um=Estimate(value=level.level_um, u=level.u_um),
        gauges=corrections(lines, level_um=level.level_um),
        panels=tuple(readings),
        next_spots=choose_next(candidates, count=next_spots_n),
    )


def _car(cases: Sequence[PanelCase]) -> tuple[dict[str, CarLevel], Habits]:
    """The level of each substrate and the works' habits."""
    with_spots = [case for case in cases if case.spots]
    sketches = {id(case): case.sketch() for case in with_spots}
    every = list(sketches.values())
    habits = find_habits(every, find_level(every, FIRST_HABITS))
    whole = find_level(every, habits)
    levels = {}
    for substrate in sorted({case.panel.substrate for case in cases}):
        own = [sketches[id(c)] for c in with_spots if c.panel.substrate == substrate]
        before = CarLevel(
            whole.level_um, float(np.hypot(whole.u_um, priors.SUBSTRATE_SHARE * whole.level_um))
        )
        alone = len(own) in (0, len(every))
        levels[substrate] = whole if alone else find_level(own, habits, before=before)
    return levels, habits


def _main_level(cases: Sequence[PanelCase], levels: dict[str, CarLevel]) -> CarLevel:
    spots = {s: sum(len(c.spots) for c in cases if c.panel.substrate == s) for s in levels}
    return levels[max(sorted(spots), key=lambda s: spots[s])]
