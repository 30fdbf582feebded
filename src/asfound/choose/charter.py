"""Presets of a brief in the terms of the charters; each only fills in limits."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from asfound.choose.eligible import eligible
from asfound.choose.problem import Problem

EARLIER_STATE = ("reinstate", "refinish", "replace with period part", "replace with new")
"""Treatments that show an earlier state, and so claim to know it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Preset:
    """A term with its meaning and the limits that it fills in.

    Parameters
    ----------
    name : str
    meaning : str
        In our own words.
    source : str
        Published text that it follows, and whether that was looked up or is from memory.
    floor : float
        Finish asked of every zone as far as it can be reached, 0–5; 0 asks for none. The figures
        are our own, no source.
    all_untouched : bool
        Whether no zone may be touched.
    needs_evidence : tuple of str
        Treatments that need evidence of the earlier state.
    """

    name: str
    meaning: str
    source: str
    floor: float = 0.0
    all_untouched: bool = False
    needs_evidence: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Limits:
    """What a preset fills in; money, hours and words stay the person's.

    Parameters
    ----------
    min_grade : mapping of str to float
        Floors by zone.
    untouched, needs_evidence : tuple of str
    held_down : mapping of str to str
        Zones whose floor is lower than the preset asks, with the piece that cannot reach more.
    """

    min_grade: Mapping[str, float]
    untouched: tuple[str, ...]
    needs_evidence: tuple[str, ...]
    held_down: Mapping[str, str] = field(default_factory=dict)


PRESETS: Mapping[str, Preset] = {
    preset.name: preset
    for preset in (
        Preset(
            name="preserve",
            meaning="Keep the car as it has come down to us, wear and all. Keep harm from it; "
            "change nothing.",
            source="FIVA Turin Charter 2012, “preservation” (draft text looked up, final wording "
            "from memory); Burra Charter, Art. 1.6 (from memory)",
            all_untouched=True,
        ),
        Preset(
            name="conserve",
            meaning="Secure and stabilise what is there. Nothing is put in its place that would "
            "change what the car tells.",
            source="FIVA Turin Charter 2012, “conservation” (draft text looked up, final wording "
            "from memory); ICOM-CC terminology 2008, remedial conservation",
            needs_evidence=("reinstate", "reintegrate", *EARLIER_STATE[1:], "adapt"),
        ),
        Preset(
            name="restore with evidence",
            meaning="Show an earlier state again where it is known, and stop where guessing would "
            "begin. What is added blends in and can be told close up.",
            source="Venice Charter 1964, Art. 9 and 12; Burra Charter, Art. 1.7; FIVA Turin "
            "Charter 2012, “restoration” (all from memory)",
            floor=2.5,
            needs_evidence=EARLIER_STATE,
        ),
        Preset(
            name="renew",
            meaning="Make it like new where it can be, at the cost of its substance. The charters "
            "advise against this for a historic vehicle.",
            source="FIVA Turin Charter 2012, “renovation” (draft text looked up; the final one is "
            "softer, from memory); EN 15898, “renovation” (from memory)",
            floor=4.0,
        ),
    )
}


def fill_in(
    preset: Preset,
    *,
    zones: Iterable[str],
    problem: Problem | None = None,
    least: Mapping[str, float] = MappingProxyType({}),
) -> Limits:
    """The limits of a preset for a car.

    Parameters
    ----------
    preset : Preset
    zones : iterable of str
        Zones of the car.
    problem : Problem, optional
        The choice under the terms of the preset. With it no zone is given a floor that one of
        its pieces could not reach by any option that is left.
    least : mapping of str to float
        Floors that no preset lowers: those of zones of which lives hang on every piece.

    Examples
    --------
    >>> fill_in(PRESETS["preserve"], zones=["cabin"]).untouched
    ('cabin',)
    >>> fill_in(PRESETS["renew"], zones=["cabin"]).min_grade
    {'cabin': 4.0}
    """
    names = tuple(zones)
    limits = Limits(
        min_grade=dict.fromkeys(names, preset.floor) if preset.floor else {},
        untouched=names if preset.all_untouched else (),
        needs_evidence=preset.needs_evidence,
    )
    if problem is not None:
        limits = _within_reach(limits, problem)
    floors = {zone: max(limits.min_grade.get(zone, 0.0), least.get(zone, 0.0)) for zone in names}
    return replace(limits, min_grade={zone: grade for zone, grade in floors.items() if grade})


def _within_reach(limits: Limits, problem: Problem) -> Limits:
    allowed = eligible(replace(problem, brief=replace(problem.brief, min_grade={})))
    grades = {(o.subject, o.option): o.grade for o in problem.options}
    floors, held_down = dict(limits.min_grade), {}
    for subject in sorted(problem.subjects, key=lambda s: s.subject):
        options = allowed[subject.subject]
        best = max((grades[subject.subject, option] for option in options), default=0.0)
        if subject.zone in floors and best < floors[subject.zone]:
            floors[subject.zone], held_down[subject.zone] = best, subject.subject
    return replace(limits, min_grade=floors, held_down=held_down)
