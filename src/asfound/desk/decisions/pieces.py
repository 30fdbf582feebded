"""Every piece with what is chosen for it and why, the most contested first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from asfound.choose import Front, Option, Problem, Subject, Why
from asfound.choose.forcing import ZONE_FLOOR
from asfound.choose.reason import LEAST_SHARE
from asfound.desk.templatetags.desk import trimmed
from asfound.record.convert.locks import Dissent, LockReason, dissents_now, lock_reasons
from asfound.record.derived import ChoiceResult
from asfound.record.folder import CarFolder

OPEN_PIECES, FEW_LEFT = 12, 6
"""Pieces that stand open, the most contested; so few more are not worth folding."""
_MINUS = "\N{MINUS SIGN}"


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
    begun: str
    lock: str
    dissents: tuple[str, ...]
    because: str
    runner_up: str
    kept_lost: float | None
    cost_change: float | None
    hours_change: float
    with_it: Mapping[str, str]
    flips_when: str
    forced_by: tuple[str, ...]
    changes_n: int
    is_exact: bool

    @property
    def others_n(self) -> int:
        """Count of the other pieces that change with the runner-up."""
        return len(self.with_it)

    @property
    def price(self) -> str:
        """What the whole car would lose, cost and take with the runner-up instead."""
        if self.kept_lost is None or self.cost_change is None:
            return ""
        told = (
            (_share(self.kept_lost), "loses {} of fabric", "keeps {} more"),
            (_figure(self.cost_change), "costs {} more", "saves {}"),
            (_figure(self.hours_change), "takes {} h more", "saves {} h"),
        )
        words = [
            (less if figure.startswith(_MINUS) else more).format(figure.removeprefix(_MINUS))
            for figure, more, less in told
            if figure
        ]
        return ", ".join(words) or "the same in all"


@dataclass(frozen=True, slots=True, kw_only=True)
class Folded:
    """Pieces of one zone that need no eye at first sight."""

    title: str
    lines: tuple[PieceLine, ...]

    @property
    def told(self) -> str:
        """How many there are, and how many of them a person fixed."""
        count, locked = len(self.lines), sum(line.locked for line in self.lines)
        told = f"{count} piece{'' if count == 1 else 's'}"
        return f"{told}, {locked} locked" if locked else told


def fold(
    lines: Sequence[PieceLine], *, open_n: int
) -> tuple[tuple[PieceLine, ...], tuple[Folded, ...]]:
    """The first lines as they are, and the others by zone; all as they are where few are left."""
    if len(lines) <= open_n + FEW_LEFT:
        return tuple(lines), ()
    zones: dict[str, list[PieceLine]] = {}
    for line in lines[open_n:]:
        zones.setdefault(line.zone, []).append(line)
    named = ((zone.capitalize() or "Of no zone", own) for zone, own in sorted(zones.items()))
    folded = tuple(Folded(title=title, lines=tuple(own)) for title, own in named)
    return tuple(lines[:open_n]), folded


def piece_lines(problem: Problem, result: ChoiceResult, folder: CarFolder) -> list[PieceLine]:
    """Lines of all subjects, the most contested first.

    A piece is the more contested the less of the car would be lost by its runner-up, and the more
    often its option changes along the front.
    """
    choice = result.choice
    if choice is None:
        return []
    options = {(option.subject, option.option): option for option in problem.options}
    reasons = {why.subject: why for why in result.whys}
    changes = _changes(result.front)
    locks, dissents = lock_reasons(folder), dissents_now(folder)
    lines = [
        _line(
            subject,
            options[subject.subject, choice.options[subject.subject]],
            reasons.get(subject.subject),
            changes.get(subject.subject, 0),
            result.forced.get(subject.subject, ()),
            locks.get(subject.subject),
            dissents.get(subject.subject, ()),
        )
        for subject in problem.subjects
    ]
    return sorted(lines, key=_calm)


def _calm(line: PieceLine) -> tuple[bool, bool, float, int, str]:
    """Order of the list: what a person fixed or what has no other way comes last."""
    lost = 1.0 if line.kept_lost is None else line.kept_lost
    return (line.locked, line.kept_lost is None, lost, -line.changes_n, line.subject)


def _line(
    subject: Subject,
    option: Option,
    why: Why | None,
    changes_n: int,
    forced_by: tuple[str, ...],
    lock: LockReason | None,
    dissents: tuple[Dissent, ...],
) -> PieceLine:
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
        begun=subject.begun,
        lock=lock.words if lock else "",
        dissents=tuple(one.words for one in dissents),
        because=why.because if why else "",
        runner_up=why.runner_up if why else "",
        kept_lost=why.kept_lost if why else None,
        cost_change=why.cost_change if why else None,
        hours_change=sum(why.hours_change.values()) if why else 0.0,
        with_it=why.with_it if why else {},
        flips_when=why.flips_when if why else "",
        forced_by=tuple(words for words in forced_by if _is_near(words, subject.zone)),
        changes_n=changes_n,
        is_exact=why is None or why.proved,
    )


def _is_near(words: str, zone: str) -> bool:
    """Whether a limit is the whole car's or the piece's own zone's; other zones only lend room."""
    return not words.startswith(ZONE_FLOOR) or words.endswith(f" in {zone}")


def _share(lost: float) -> str:
    if abs(lost) < LEAST_SHARE:
        return ""
    return f"{trimmed(round(lost * 100, 1))} %"


def _figure(change: float) -> str:
    return trimmed(round(change, 1)) if round(change, 1) else ""


def _changes(front: Front | None) -> dict[str, int]:
    """Count of times that each subject's option changes from one end of the front to the other."""
    counted: dict[str, int] = {}
    for cheaper, dearer in pairwise(front.points if front else ()):
        for subject, option in dearer.options.items():
            if cheaper.options.get(subject) != option:
                counted[subject] = counted.get(subject, 0) + 1
    return counted
