"""What the form of a car's brief can speak of, and what a preset would fill into it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from asfound.base import AsfoundError
from asfound.choose import LEAVES_ALONE, Limits, Preset, Problem, fill_in
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.safety import vital_pieces
from asfound.record.convert.treatment_words import TREATMENTS
from asfound.record.folder import CarFolder

_HOURS = "hours_"
Content = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class BriefGrounds:
    """Trades, zones, treatments and pieces that the options, the pieces or a brief name."""

    trades: list[str]
    zones: list[str]
    treatments: list[str]
    known: list[str]

    @classmethod
    def of(cls, folder: CarFolder, briefs: Iterable[Content]) -> BriefGrounds:
        """Those of a car; what an earlier brief names stays to be seen and changed."""
        told = list(briefs)
        options, subjects = folder.sheet("options"), folder.sheet("subjects")
        columns = [c.removeprefix(_HOURS) for c in options.columns if c.startswith(_HOURS)]
        zones = [row.text("zone") for row in subjects if row.text("zone")]
        treatments = [*TREATMENTS, *(row.text("treatment") for row in options)]
        return cls(
            trades=_met(columns, *(brief.get("hours_max") for brief in told)),
            zones=_met(zones, *(brief.get("min_grade") for brief in told)),
            treatments=[
                name
                for name in _met(treatments, *(brief.get("needs_evidence") for brief in told))
                if name not in LEAVES_ALONE
            ],
            known=_met(row.text("subject") for row in options),
        )


def _met(first: Iterable[str], *more: Iterable[str] | None) -> list[str]:
    return list(dict.fromkeys([*first, *(name for names in more for name in names or ())]))


def preset_limits(preset: Preset, folder: CarFolder, zones: list[str]) -> Limits:
    """What the preset fills in for the car, with no floor that a piece could not reach."""
    brief = filled(folder.brief or {}, fill_in(preset, zones=zones), zones)
    try:
        problem: Problem | None = choice_problem(replace(folder, brief=brief))
    except AsfoundError:
        problem = None
    return fill_in(preset, zones=zones, problem=problem, least=vital_floors(folder))


def vital_floors(folder: CarFolder) -> dict[str, float]:
    """Floors of the zones of which lives hang on every piece, as the brief has them now."""
    zones = {row.text("subject"): row.text("zone") for row in folder.sheet("subjects")}
    vital = vital_pieces(folder, zones)
    others = {zone for name, zone in zones.items() if name not in vital}
    floors = (folder.brief or {}).get("min_grade") or {}
    made_of_vital = set(zones.values()) - others
    return {zone: floor for zone, floor in floors.items() if zone in made_of_vital and floor}


def filled(content: Content, limits: Limits, zones: list[str]) -> dict[str, Any]:
    """The brief with the limits of a preset; money, hours, words and single pieces stay."""
    pieces = [name for name in content.get("untouched") or () if name not in zones]
    return {
        **content,
        "min_grade": dict(limits.min_grade) or None,
        "untouched": [*limits.untouched, *pieces] or None,
        "needs_evidence": list(limits.needs_evidence) or None,
    }
