"""Every piece with what is chosen for it and why, the most contested first."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from asfound.choose import Choice, Front, Option, Problem, Subject, Why


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceLine:
    """One subject as a line of the list."""

    subject: str
    zone: str
    option: str
    treatment: str
    kept: float
    grade: float
    cost: float
    hours: float
    locked: bool
    because: str
    runner_up: str
    kept_lost: float | None
    flips_when: str
    changes_n: int


def piece_lines(
    problem: Problem, choice: Choice, front: Front | None, whys: tuple[Why, ...]
) -> list[PieceLine]:
    """Lines of all subjects, the most contested first.

    A piece is the more contested the less of the car would be lost by its runner-up, and the more
    often its option changes along the front.
    """
    options = {(option.subject, option.option): option for option in problem.options}
    reasons = {why.subject: why for why in whys}
    changes = _changes(front)
    lines = [
        _line(
            subject,
            options[subject.subject, choice.options[subject.subject]],
            reasons.get(subject.subject),
            changes.get(subject.subject, 0),
        )
        for subject in problem.subjects
    ]
    return sorted(lines, key=_calm)


def _calm(line: PieceLine) -> tuple[bool, bool, float, int, str]:
    """Order of the list: what a person fixed or what has no other way comes last."""
    lost = 1.0 if line.kept_lost is None else line.kept_lost
    return (line.locked, line.kept_lost is None, lost, -line.changes_n, line.subject)


def _line(subject: Subject, option: Option, why: Why | None, changes_n: int) -> PieceLine:
    return PieceLine(
        subject=subject.subject,
        zone=subject.zone,
        option=option.option,
        treatment=option.treatment,
        kept=option.kept,
        grade=option.grade,
        cost=option.cost,
        hours=sum(option.hours.values()),
        locked=subject.locked_option == option.option,
        because=why.because if why else "",
        runner_up=why.runner_up if why else "",
        kept_lost=why.kept_lost if why else None,
        flips_when=why.flips_when if why else "",
        changes_n=changes_n,
    )


def _changes(front: Front | None) -> dict[str, int]:
    """Count of times that each subject's option changes from one end of the front to the other."""
    counted: dict[str, int] = {}
    for cheaper, dearer in pairwise(front.points if front else ()):
        for subject, option in dearer.options.items():
            if cheaper.options.get(subject) != option:
                counted[subject] = counted.get(subject, 0) + 1
    return counted
