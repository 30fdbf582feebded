"""The polishing of one car: what passes take, what is left, and how many may follow."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from asfound.base import Estimate, NotEnoughEvidenceError
from asfound.measure.budget import Component, combine
from asfound.measure.gauge import GaugeLine
from asfound.measure.polish.area import AreaBudget, area_budget
from asfound.measure.polish.present import Area, lines_of, present_film, spot_u_um
from asfound.measure.polish.removal import PolishSpot, Removal, removal_per_pass
from asfound.measure.polish.survey import PolishReading, PolishSurvey

STAY_PROBABILITY = 0.95
"""Asked chance of staying above the floor where nobody asks for another (an assumption)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AreaRemoval:
    """What a pass of one process took on one area; ``panel`` is empty for the whole car."""

    panel: str
    area: str
    process: str
    removal: Removal


@dataclass(frozen=True, slots=True, kw_only=True)
class PolishResult:
    """What the polishing of a car says.

    ``removals`` are by process and area, ``pooled`` by process over all areas.
    """

    asked_probability: float
    removals: tuple[AreaRemoval, ...]
    pooled: tuple[AreaRemoval, ...]
    areas: tuple[AreaBudget, ...]


def read_polish(
    survey: PolishSurvey, *, stay_probability: float = STAY_PROBABILITY
) -> PolishResult:
    """What a pass takes, what is left above the floors, and how many passes may follow.

    Parameters
    ----------
    survey : PolishSurvey
    stay_probability : float
        Asked chance that a spot stays above its floor, 0.5 to below 1.

    Raises
    ------
    NotEnoughEvidenceError
        If nothing was polished and no floor is set.
    InputError
        If the probability is out of range.

    Notes
    -----
    The gauge's offset cancels in before − after; its slope does not, and its doubt is carried.
    Where a process was not tried on an area, its mean over the areas where it was tried stands,
    with a caution: a curved or thin place goes faster.
    """
    if not survey.readings and not survey.floors:
        raise NotEnoughEvidenceError(
            "Nothing was read before and after polishing, and no floor is set. Read a spot, polish "
            "it, read it again."
        )
    lines = lines_of(survey)
    own = _removals(survey.readings, lines, by_area=True)
    pooled = _removals(survey.readings, lines, by_area=False)
    film = present_film(survey, lines=lines, removals=_by_area(survey.readings, lines))
    floors = {(f.panel, f.floor.area): f for f in survey.floors}
    areas = tuple(
        area_budget(
            panel=panel,
            area=area,
            floor=floors.get((panel, area), floors.get((panel, ""))),
            spots=spots,
            own={r.process: r.removal for r in own if (r.panel, r.area) == (panel, area)},
            elsewhere={r.process: r.removal for r in pooled},
            stay_probability=stay_probability,
        )
        for (panel, area), spots in film.items()
    )
    return PolishResult(
        asked_probability=stay_probability, removals=own, pooled=pooled, areas=areas
    )


def _removals(
    readings: Sequence[PolishReading], lines: dict[str, GaugeLine], *, by_area: bool
) -> tuple[AreaRemoval, ...]:
    groups: dict[tuple[str, str, str], list[PolishReading]] = {}
    for r in readings:
        place = (r.panel, r.area) if by_area else ("", "")
        groups.setdefault((*place, r.process), []).append(r)
    return tuple(
        AreaRemoval(panel=panel, area=area, process=process, removal=_removal(group, lines))
        for (panel, area, process), group in groups.items()
    )


def _by_area(readings: Sequence[PolishReading], lines: dict[str, GaugeLine]) -> dict[Area, Removal]:
    """What a pass took on an area, whatever the process: for spots that nobody read again."""
    groups: dict[Area, list[PolishReading]] = {}
    for r in readings:
        groups.setdefault((r.panel, r.area), []).append(r)
    return {area: _removal(group, lines) for area, group in groups.items()}


def _removal(group: Sequence[PolishReading], lines: dict[str, GaugeLine]) -> Removal:
    found = removal_per_pass(
        [_spot(turn, r, lines[r.gauge]) for turn, r in enumerate(group)],
        spot_u_um=max(spot_u_um(lines[r.gauge]) for r in group),
    )
    rate = found.per_pass_um
    slope = max((lines[r.gauge].slope for r in group), key=lambda s: s.u / s.value)
    u, dof = combine(
        [
            Component(u=rate.u, dof=rate.dof),
            Component(u=slope.u / slope.value, sensitivity=rate.value, dof=slope.dof),
        ]
    )
    return replace(found, per_pass_um=Estimate(value=rate.value, u=u, dof=dof))


def _spot(turn: int, r: PolishReading, line: GaugeLine) -> PolishSpot:
    """Each session at a spot counts as a pair of its own."""
    return PolishSpot(
        area=f"{r.panel}, {r.area}",
        spot=f"{r.spot}, {turn}",
        before_um=r.before_um / line.slope.value,
        after_um=r.after_um / line.slope.value,
        passes_n=r.passes_n,
    )
