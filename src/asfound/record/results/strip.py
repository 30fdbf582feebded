"""The order of stripping and rebuilding as ``asfound strip`` prints it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from asfound.plan.strip import Way
from asfound.record.convert.strip import StripQuestion
from asfound.record.results.estimate import number


def strip_json(question: StripQuestion, way: Way | None) -> dict[str, Any]:
    """Strip sequence, rebuild sequence, and the way to one piece if it was asked for.

    Parameters
    ----------
    question : StripQuestion
    way : Way or None
    """
    waves = {part: i for i, several in enumerate(question.waves, 1) for part in several}
    return {
        "strip": [_removal(question, part, waves) for part in question.assembly.sequence],
        "rebuild": list(question.rebuild.sequence),
        "on_again": {r.part: r.on_again for r in question.removals.values() if r.on_again},
        "goes_on_next": list(question.going_on),
        "benches": {bench: list(parts) for bench, parts in question.rebuild.benches.items()},
        "new_when_rebuilding": [r.part for r in question.removals.values() if r.single_use],
        "way": None if way is None else _way(question, way, waves),
    }


def _removal(question: StripQuestion, part: str, waves: Mapping[str, int]) -> dict[str, Any]:
    removal = question.removals[part]
    return {
        "part": part,
        "wave": waves.get(part),
        "off": part in question.off,
        "risk": number(question.assembly.named[part].risk),
        "hours": removal.hours,
        "people": removal.people,
        "single_use": removal.single_use,
        "cautions": [caution.do for caution in removal.cautions],
    }


def _way(question: StripQuestion, way: Way, waves: Mapping[str, int]) -> dict[str, Any]:
    return {
        "part": way.piece,
        "first_off": [_removal(question, part, waves) for part in way.first_off],
        "risk": number(way.risk),
        "risk_least": number(way.risk_least),
        "proved": way.proved,
    }
