"""Which options may be chosen at all, before any sum is looked at."""

from __future__ import annotations

from collections.abc import Mapping

from asfound.choose.arithmetic import Key, Ledger
from asfound.choose.problem import Link, Option, Problem, Subject
from asfound.choose.terms import forbidden


def floor_of(problem: Problem, subject: Subject) -> float:
    """The higher of a subject's own floor and its zone's, grade 0–5."""
    if not subject.zone:
        return subject.min_grade
    return max(subject.min_grade, problem.brief.min_grade.get(subject.zone, 0.0))


def options_of(problem: Problem) -> dict[str, list[Option]]:
    """Each subject's options, subjects and options by name.

    The order is by name so that the order of the rows in a file changes nothing.
    """
    found: dict[str, list[Option]] = {
        name: [] for name in sorted(s.subject for s in problem.subjects)
    }
    for option in sorted(problem.options, key=lambda o: o.option):
        found[option.subject].append(option)
    return found


def eligible(problem: Problem) -> dict[str, tuple[str, ...]]:
    """Each subject's options that are safe, within the brief's floors and terms, lock and waits."""
    subjects = {s.subject: s for s in problem.subjects}
    waiting = waiting_options(problem)
    return {
        name: tuple(
            o.option
            for o in options
            if (name, o.option) not in waiting and _may(problem, subjects[name], o)
        )
        for name, options in options_of(problem).items()
    }


def waits_now(problem: Problem) -> tuple[Link, ...]:
    """The ``waits`` rows whose other piece no person has decided yet."""
    locked = {s.subject for s in problem.subjects if s.locked_option}
    return tuple(
        link
        for link in problem.links
        if link.kind == "waits" and not link.other_option and link.other_subject not in locked
    )


def waiting_options(problem: Problem) -> frozenset[Key]:
    """The options that may not be chosen before another piece is decided."""
    return frozenset((link.subject, link.option) for link in waits_now(problem))


def _may(problem: Problem, subject: Subject, option: Option) -> bool:
    locked = subject.locked_option
    return (
        option.safe
        and option.grade >= floor_of(problem, subject)
        and (not locked or option.option == locked)
        and not forbidden(problem.brief, subject, option)
    )


def undominated(
    problem: Problem, ledger: Ledger, allowed: Mapping[str, tuple[str, ...]]
) -> dict[str, tuple[str, ...]]:
    """The same without options that another of the subject beats or equals in everything.

    Notes
    -----
    An option that a link or an opening names is never dropped, and one that a ``requires`` or an
    ``excludes`` could hold back, or a seam beyond where it holds the dropped one back, never
    drops another; so no choice is lost that could win, not even on a tie.
    """
    named = {end for k in problem.links for end in _ends(k)}
    named |= {key for opening in problem.openings for key in opening.users}
    held = {end for k in problem.links if k.binds for end in _ends(k)}
    barred = _barred_by_seams(problem)
    none: frozenset[Key] = frozenset()
    scores = {
        key: (
            ledger.kept.of[key],
            -ledger.cost.of[key],
            -ledger.hours.of[key],
            *(-ledger.by_trade[t].of[key] for t in problem.brief.hours_max if t in ledger.by_trade),
        )
        for key in ledger.kept.of
    }

    def beaten(subject: str, option: str, others: tuple[str, ...]) -> bool:
        mine = scores[subject, option]
        return (subject, option) not in named and any(
            (subject, other) not in held
            and barred.get((subject, other), none) <= barred.get((subject, option), none)
            and all(a >= b for a, b in zip(scores[subject, other], mine, strict=True))
            and (
                scores[subject, other] != mine
                or barred.get((subject, other), none) != barred.get((subject, option), none)
                or (subject, other) in named
                or other < option
            )
            for other in others
            if other != option
        )

    return {
        subject: tuple(o for o in options if not beaten(subject, o, options))
        for subject, options in allowed.items()
    }


def _barred_by_seams(problem: Problem) -> dict[Key, frozenset[Key]]:
    """The neighbours' options that each option bars."""
    found: dict[Key, set[Key]] = {}
    for seam in problem.seams:
        for one, two in seam.steps:
            if seam.forbids(one, two):
                here, there = (seam.subject, one), (seam.other_subject, two)
                found.setdefault(here, set()).add(there)
                found.setdefault(there, set()).add(here)
    return {key: frozenset(barred) for key, barred in found.items()}


def _ends(link: Link) -> tuple[Key, Key]:
    return (link.subject, link.option), (link.other_subject, link.other_option)
