"""What an option requires, excludes, shares, meets and waits for, in words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from asfound.choose import Option, Problem
from asfound.choose.words import step_in_words

_VERBS = {
    "requires": "requires",
    "excludes": "excludes",
    "shares": "shares work with",
    "waits": "destroys evidence, so it waits for",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class SeamNow:
    """A neighbour at a seam, as both are chosen.

    Parameters
    ----------
    other, option : str
        The neighbour and what is chosen for it.
    apart : str
        How far apart the two are, in words; empty where it is not known.
    most, why : str
    barred : tuple of str
        Options of the neighbour that could not stand beside this one, each with its step.
    """

    other: str
    option: str
    apart: str
    most: str
    why: str
    barred: tuple[str, ...]


def seams_now(problem: Problem, chosen: Mapping[str, str], subject: str) -> Iterator[SeamNow]:
    """Every seam of a piece under a choice."""
    for seam in problem.seams:
        if subject not in (seam.subject, seam.other_subject):
            continue
        other = seam.other_subject if subject == seam.subject else seam.subject
        turn = 1 if subject == seam.subject else -1
        steps = {
            there: step
            for pair, step in seam.steps.items()
            for here, there in [pair[::turn]]
            if here == chosen[subject]
        }
        apart = steps.get(chosen[other])
        yield SeamNow(
            other=other,
            option=chosen[other],
            apart="" if apart is None else step_in_words(seam, round(apart, 2)),
            most=step_in_words(seam, seam.most),
            why=seam.why,
            barred=tuple(
                f"{there} ({step_in_words(seam, round(step, 2))})"
                for there, step in sorted(steps.items(), key=lambda one: one[1])
                if step > seam.most
            ),
        )


def ties_of(problem: Problem, option: Option) -> Iterator[str]:
    """Every tie of an option, in words."""
    here = (option.subject, option.option)
    for link in problem.links:
        one, other = (link.subject, link.option), (link.other_subject, link.other_option)
        why = f" ({link.why})" if link.why else ""
        there = f"{other[0]}: {other[1]}" if other[1] else f"{other[0]} to be decided"
        if here == one:
            yield f"{_VERBS[link.kind]} {there}{why}"
        elif here == other and link.kind in ("excludes", "shares"):
            yield f"{_VERBS[link.kind]} {one[0]}: {one[1]}{why}"
        elif here == other and link.kind == "waits":
            yield f"comes before {one[0]}: {one[1]}, which destroys its evidence{why}"
    for opening in problem.openings:
        if here in opening.users:
            others = len({subject for subject, _ in opening.users} - {option.subject})
            yield f"needs {opening.thing} off, as may {others} other piece{'s' * (others != 1)}"
    for seam in problem.seams:
        if option.subject in (seam.subject, seam.other_subject):
            next_to = seam.other_subject if option.subject == seam.subject else seam.subject
            yield f"meets {next_to} at a seam: at most {step_in_words(seam, seam.most)} apart"
