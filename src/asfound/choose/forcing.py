"""Which limit of the brief makes a decision what it is: the choice is made again without it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from asfound.choose.brief import Brief
from asfound.choose.problem import Problem
from asfound.choose.search import build, most_kept
from asfound.choose.words import number

ZONE_FLOOR = "finish at least"
"""How the words of a zone's floor begin."""


def forcing_limits(
    problem: Problem,
    options: Mapping[str, str],
    *,
    time_limit_s: float = 10.0,
) -> dict[str, tuple[str, ...]]:
    """By subject, the limits each of which, lifted alone, would change its option.

    Parameters
    ----------
    problem : Problem
    options : mapping of str to str
        The choice within the brief.
    time_limit_s : float
        Seconds for each limit; one that is not answered in time is left out.

    Returns
    -------
    dict of str to tuple of str
        Limits in words; a subject that none of them changes is absent.
    """
    found: dict[str, tuple[str, ...]] = {}
    for words, brief in _without_each(problem.brief):
        freed = most_kept(build(replace(problem, brief=brief), time_limit_s=time_limit_s), options)
        if freed.options is not None and freed.proved:
            for subject, option in options.items():
                if freed.options.get(subject) != option:
                    found[subject] = (*found.get(subject, ()), words)
    return found


def _without_each(brief: Brief) -> Iterator[tuple[str, Brief]]:
    if brief.cost_max is not None:
        yield f"cost at most {number(brief.cost_max)}", replace(brief, cost_max=None)
    for trade, limit in sorted(brief.hours_max.items()):
        rest = {t: h for t, h in brief.hours_max.items() if t != trade}
        yield f"hours of {trade} at most {number(limit)}", replace(brief, hours_max=rest)
    for zone, grade in sorted(brief.min_grade.items()):
        floors = {z: g for z, g in brief.min_grade.items() if z != zone}
        yield f"{ZONE_FLOOR} {number(grade)} in {zone}", replace(brief, min_grade=floors)
    if brief.untouched:
        yield "what must not be touched", replace(brief, untouched=frozenset())
    if brief.needs_evidence:
        yield "what needs evidence", replace(brief, needs_evidence=frozenset())
