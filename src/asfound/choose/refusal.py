"""What is said when nothing satisfies the brief, with what would have to give."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from asfound.base import InputError, NoSolutionError
from asfound.choose.arithmetic import open_ledger
from asfound.choose.clash import Clash, Relaxed, find_clash
from asfound.choose.eligible import options_of
from asfound.choose.letting import Letting, lettings, said
from asfound.choose.problem import Problem
from asfound.choose.requirement import Requirement, below, requirements_of
from asfound.choose.search import Progress
from asfound.choose.words import number


@dataclass(frozen=True, slots=True, kw_only=True)
class Relaxation:
    """One number of the brief whose change alone would make it possible.

    Parameters
    ----------
    words : str
        The requirement as it stands.
    now : float
        The number in the brief.
    enough : float
        The nearest value at which the whole brief can be met: the least limit of cost or hours,
        the highest floor.
    """

    words: str
    now: float
    enough: float

    @property
    def part(self) -> float:
        """How far the number moves, as a part of itself; infinite from nothing."""
        return abs(self.enough - self.now) / self.now if self.now else math.inf


def relaxations(
    problem: Problem, clash: Clash, *, time_limit_s: float = 60.0
) -> tuple[Relaxation, ...]:
    """What each number in a clash would have to become if it alone were changed.

    The cheapest comes first: the one that moves by the smallest part of itself. A number that
    helps not even when it is lifted altogether is left out. Only the clash need be looked at: a
    requirement outside it cannot help alone.
    """
    relaxed = _around(problem, clash, time_limit_s)
    found = []
    for requirement in clash.requirements:
        enough = _enough(problem, relaxed, requirement)
        if enough is not None and requirement.limit is not None:
            found.append(Relaxation(words=requirement.words, now=requirement.limit, enough=enough))
    return tuple(sorted(found, key=lambda way: way.part))


def _around(problem: Problem, clash: Clash, time_limit_s: float) -> Relaxed:
    """The relaxed model with a clash first and every other requirement after it."""
    single = requirements_of(problem, open_ledger(problem))
    rest = tuple(r for r in single if r not in clash.requirements)
    return Relaxed(problem, (*clash.requirements, *rest), time_limit_s=time_limit_s)


def _enough(problem: Problem, relaxed: Relaxed, requirement: Requirement) -> float | None:
    place = relaxed.requirements.index(requirement)
    others = [p for p in range(len(relaxed.requirements)) if p != place]
    if requirement.amount is not None:
        return relaxed.least(place, others)
    if requirement.kind == "seam":
        return _widest_step(relaxed, place, others)
    if requirement.kind in ("floor", "zone floor"):
        return _highest_floor(problem, relaxed, place, others)
    return None


def _highest_floor(
    problem: Problem, relaxed: Relaxed, place: int, others: list[int]
) -> float | None:
    requirement = relaxed.requirements[place]
    options = options_of(problem)
    subjects = {subject for subject, _ in requirement.bars}
    floor = requirement.limit or 0.0
    grades = sorted({o.grade for s in subjects for o in options[s] if o.grade < floor})
    best = None
    low, high = 0, len(grades) - 1
    while low <= high:
        middle = (low + high) // 2
        barred = frozenset().union(*(below(options[s], grades[middle]) for s in subjects))
        if relaxed.possible(others, barred):
            best, low = grades[middle], middle + 1
        else:
            high = middle - 1
    return best


def _widest_step(relaxed: Relaxed, place: int, others: list[int]) -> float | None:
    """The least step that would do at a seam."""
    (seam,) = relaxed.requirements[place].seams
    steps = sorted({s for s in seam.steps.values() if s > seam.most})
    best, low, high = None, 0, len(steps) - 1
    while low <= high:
        middle = (low + high) // 2
        if relaxed.possible_with(others, replace(seam, most=steps[middle])):
            best, high = steps[middle], middle - 1
        else:
            low = middle + 1
    return best


def refusal(
    problem: Problem, *, proved: bool, time_limit_s: float, progress: Progress | None
) -> Exception:
    """The error that says why there is no choice."""
    late = InputError(
        field="time_limit_s",
        got=time_limit_s,
        allowed="long enough to find a first choice",
        remedy="Allow more time, or loosen the brief.",
    )
    if not proved:
        return late
    clash = find_clash(problem, time_limit_s=time_limit_s / 2, progress=progress)
    if clash is None:
        return late
    words = tuple(detailed(problem, clash, time_limit_s=time_limit_s / 4))
    ways = relaxations(problem, clash, time_limit_s=time_limit_s / 4)
    lets = lettings(problem, clash, time_limit_s=time_limit_s / 4)
    told = (
        *(f"{way.words}: would have to become {number(way.enough)}" for way in ways),
        *(said(one).strip().removeprefix("Or ").removesuffix(".") for one in lets),
    )
    return NoSolutionError(_message(clash, ways, lets), clash=words, ways=told)


def _message(clash: Clash, ways: tuple[Relaxation, ...], lets: tuple[Letting, ...]) -> str:
    count = len(clash.requirements)
    text = (
        "Nothing satisfies the brief: one requirement cannot hold by itself."
        if count == 1
        else f"Nothing satisfies the brief: {count} requirements cannot hold together."
    )
    if not clash.smallest:
        text += " Single floors, locks and ties are each named as one; time was too short for less."
    for way in ways:
        text += f" With everything else as it is, '{way.words}' would have to become "
        text += f"{number(way.enough)}."
    return text + "".join(map(said, lets))


def detailed(problem: Problem, clash: Clash, *, time_limit_s: float) -> list[str]:
    """Each requirement of a clash in words; a limit with the least that the others allow.

    Only the requirements of the clash are held to in that least; a relaxation holds to all, and so
    may ask for more.
    """
    relaxed = _around(problem, clash, time_limit_s)
    places = [relaxed.requirements.index(r) for r in clash.requirements]
    return [_words(relaxed, place, places) for place in places]


def _words(relaxed: Relaxed, place: int, places: list[int]) -> str:
    requirement = relaxed.requirements[place]
    if requirement.amount is None:
        return requirement.words
    least = relaxed.least(place, places)
    if least is None:
        return requirement.words
    takes = "costs" if requirement.kind == "cost" else "takes"
    kept = (
        "that meets the others named here, all other limits lifted,"
        if len(places) > 1
        else "that is safe, every other limit lifted,"
    )
    return f"{requirement.words} (a choice {kept} {takes} {number(least)} at least)"
