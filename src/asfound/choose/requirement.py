"""The requirements of a brief, one by one, in words that a person can act on."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Literal

from asfound.choose.arithmetic import Amount, Key, Ledger, breaks
from asfound.choose.couplings import Seam
from asfound.choose.eligible import options_of, waits_now
from asfound.choose.exactly import exact
from asfound.choose.problem import Link, Option, Problem
from asfound.choose.terms import LEAVES_ALONE, is_untouched, lacks_evidence
from asfound.choose.words import in_words, number, seam_in_words

Kind = Literal[
    "cost",
    "hours",
    "zone floor",
    "floor",
    "lock",
    "link",
    "seam",
    "wait",
    "safety",
    "untouched",
    "evidence",
    "group",
]
_NAMED = 3  # members of a zone or a group that are named before the list is cut short
_GATHERED = {
    "floor": "the floors of single pieces",
    "lock": "the locks",
    "link": "the ties between options",
    "seam": "the seams",
    "wait": "the pieces that wait for others to be decided",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Requirement:
    """One thing that a choice must satisfy, of one of four shapes.

    Parameters
    ----------
    kind : str
    words : str
        The requirement in plain words.
    name : str
        The trade, zone or subject that it is about, or the kind that a group is of; empty for
        cost and links.
    bars : frozenset of (subject, option)
        Options that it forbids.
    links : tuple of Link
        The ``requires``, ``excludes`` and ``waits`` rows that it is.
    seams : tuple of Seam
        The seams that it is.
    amount, most : Amount and int, or None
        The sum that it limits and the limit in steps.
    limit : float or None
        The number in the brief.
    """

    kind: Kind
    words: str
    name: str = ""
    bars: frozenset[Key] = frozenset()
    links: tuple[Link, ...] = ()
    seams: tuple[Seam, ...] = ()
    amount: Amount | None = None
    most: int = 0
    limit: float | None = None

    def holds(self, ledger: Ledger, options: Mapping[str, str]) -> bool:
        """Whether a choice satisfies it, in exact arithmetic."""
        if self.amount is not None:
            return ledger.total(self.amount, options) <= self.most
        return (
            not any(breaks(link, options) for link in self.links)
            and not any(seam.broken_by(options) for seam in self.seams)
            and self.bars.isdisjoint(options.items())
        )


def requirements_of(problem: Problem, ledger: Ledger) -> tuple[Requirement, ...]:
    """Every requirement of a problem that could forbid a choice, in a fixed order."""
    found = (
        *_limits(problem, ledger),
        *_zone_floors(problem),
        *_untouched(problem),
        *_evidence(problem),
        *_own(problem),
        *_links(problem),
        *_seams(problem),
    )
    return tuple(r for r in found if r.bars or r.links or r.seams or r.amount)


def gathered(requirements: tuple[Requirement, ...]) -> tuple[Requirement, ...]:
    """The same requirements with single floors, locks and links each taken as one.

    Where a clash takes hundreds of floors no list of them helps; that it is the floors does.
    """
    alone = [r for r in requirements if r.kind not in _GATHERED]
    groups = [_together(kind, [r for r in requirements if r.kind == kind]) for kind in _GATHERED]
    return (*alone, *(g for g in groups if g.bars or g.links or g.seams))


def _together(kind: str, members: list[Requirement]) -> Requirement:
    return Requirement(
        kind="group",
        name=kind,
        words=f"{_GATHERED[kind]} ({len(members)} in all: {_few([r.words for r in members])})",
        bars=frozenset().union(*(r.bars for r in members)),
        links=tuple(link for r in members for link in r.links),
        seams=tuple(seam for r in members for seam in r.seams),
    )


def _few(names: list[str]) -> str:
    return ", ".join(names[:_NAMED]) + (", …" if len(names) > _NAMED else "")


def _limits(problem: Problem, ledger: Ledger) -> Iterator[Requirement]:
    brief = problem.brief
    if brief.cost_max is not None:
        yield Requirement(
            kind="cost",
            words=f"cost at most {number(brief.cost_max)}",
            amount=ledger.cost,
            most=ledger.cost.most_steps(exact(brief.cost_max)),
            limit=brief.cost_max,
        )
    for trade, limit in sorted(brief.hours_max.items()):
        if trade in ledger.by_trade:
            amount = ledger.by_trade[trade]
            yield Requirement(
                kind="hours",
                words=f"hours of {trade} at most {number(limit)}",
                name=trade,
                amount=amount,
                most=amount.most_steps(exact(limit)),
                limit=limit,
            )


def _zone_floors(problem: Problem) -> Iterator[Requirement]:
    options = options_of(problem)
    for zone, grade in sorted(problem.brief.min_grade.items()):
        names = sorted(s.subject for s in problem.subjects if s.zone == zone and zone)
        bars = frozenset().union(*(below(options[name], grade) for name in names))
        yield Requirement(
            kind="zone floor",
            words=f"floor {number(grade)} on zone {zone} ({_few(names)})",
            name=zone,
            bars=bars,
            limit=grade,
        )


def _untouched(problem: Problem) -> Iterator[Requirement]:
    options, brief = options_of(problem), problem.brief
    for name in sorted(brief.untouched):
        alone = replace(brief, untouched=frozenset({name}))
        held = [s.subject for s in problem.subjects if is_untouched(alone, s)]
        bars = frozenset(
            (one, o.option) for one in held for o in options[one] if o.treatment not in LEAVES_ALONE
        )
        yield Requirement(
            kind="untouched", words=f"{name} must not be touched", name=name, bars=bars
        )


def _evidence(problem: Problem) -> Iterator[Requirement]:
    brief, subjects = problem.brief, {s.subject: s for s in problem.subjects}
    for treatment in sorted(brief.needs_evidence):
        bars = frozenset(
            (o.subject, o.option)
            for o in problem.options
            if o.treatment == treatment and lacks_evidence(brief, subjects[o.subject], o)
        )
        names = _few(sorted({subject for subject, _ in bars}))
        yield Requirement(
            kind="evidence",
            words=f"{treatment} needs evidence, and none is on record for {names}",
            name=treatment,
            bars=bars,
        )


def below(options: list[Option], grade: float) -> frozenset[Key]:
    """The options that do not reach a grade."""
    return frozenset((o.subject, o.option) for o in options if o.grade < grade)


def _own(problem: Problem) -> Iterator[Requirement]:
    options = options_of(problem)
    for subject in sorted(problem.subjects, key=lambda s: s.subject):
        name, every = subject.subject, options[subject.subject]
        keys = frozenset((o.subject, o.option) for o in every)
        yield Requirement(
            kind="floor",
            words=f"floor {number(subject.min_grade)} on {name}",
            name=name,
            bars=below(every, subject.min_grade),
            limit=subject.min_grade,
        )
        if subject.locked_option:
            lock = next(o for o in every if o.option == subject.locked_option)
            unsafe = "" if lock.safe else ", which is not safe"
            begun = f": {subject.begun}" if subject.begun else ""
            yield Requirement(
                kind="lock",
                words=f"{name} is locked to '{subject.locked_option}'{unsafe}{begun}",
                name=name,
                bars=keys - {(name, subject.locked_option)},
            )
        if not any(o.safe for o in every):
            yield Requirement(
                kind="safety", words=f"{name} has no safe option", name=name, bars=keys
            )


def _links(problem: Problem) -> Iterator[Requirement]:
    for link in problem.links:
        if link.binds:
            yield Requirement(kind="link", words=in_words(link), links=(link,))
    for link in waits_now(problem):
        bars = frozenset({(link.subject, link.option)})
        yield Requirement(kind="wait", words=in_words(link), name=link.subject, bars=bars)


def _seams(problem: Problem) -> Iterator[Requirement]:
    for seam in problem.seams:
        if any(seam.forbids(*pair) for pair in seam.steps):
            yield Requirement(
                kind="seam", words=seam_in_words(seam), seams=(seam,), limit=seam.most
            )
