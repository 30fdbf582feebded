"""What a person should know about the options before trusting a choice among them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from asfound.choose.arithmetic import Key
from asfound.choose.problem import Link, Option, Problem
from asfound.choose.terms import LEAVES_ALONE, term_notices


def notices(problem: Problem) -> tuple[str, ...]:
    """Plain sentences about what is missing or odd; empty when there is nothing to say.

    Notes
    -----
    Told are options that take work but no hours of any trade, options that require each other in
    a circle, seams at which a colour is not known, pieces that were begun undecided, and locks
    that the brief by itself would not allow.

    Examples
    --------
    >>> from asfound.choose import Option, Subject
    >>> cleaned = Option(
    ...     subject="grille", option="clean", treatment="clean", kept=0.9, grade=3, cost=40
    ... )
    >>> notices(Problem(subjects=(Subject(subject="grille"),), options=(cleaned,)))
    ("grille 'clean' has no hours of any trade: it counts as no work at all.",)
    """
    return (
        *_without_hours(problem),
        *_circles(problem),
        *_unknown_colours(problem),
        *_begun(problem),
        *term_notices(problem),
    )


def _without_hours(problem: Problem) -> Iterator[str]:
    for option in problem.options:
        if option.treatment not in LEAVES_ALONE and not any(option.hours.values()):
            yield (
                f"{option.subject} '{option.option}' has no hours of any trade: it counts as no "
                "work at all."
            )


def _circles(problem: Problem) -> Iterator[str]:
    for keys in circles(problem.links, kinds=("requires", "waits")):
        names = ", ".join(f"{subject} '{option}'" for subject, option in keys)
        pieces = [subject for subject, _ in keys]
        if len(set(pieces)) < len(pieces):
            fate = "as two of them are of one piece, none can ever be chosen"
        else:
            fate = "they are chosen together or not at all"
        yield f"{names} require each other in a circle: {fate}."


def _unknown_colours(problem: Problem) -> Iterator[str]:
    by_subject: dict[str, list[Option]] = {}
    for option in problem.options:
        by_subject.setdefault(option.subject, []).append(option)
    for seam in problem.seams:
        pairs = len(by_subject[seam.subject]) * len(by_subject[seam.other_subject])
        missing = pairs - len(seam.steps)
        if seam.measure == "colour" and missing:
            yield (
                f"At the seam of {seam.subject} and {seam.other_subject} the colour of "
                f"{missing} of {pairs} pairs of options is not known; those may stand."
            )


def _begun(problem: Problem) -> Iterator[str]:
    for subject in problem.subjects:
        if subject.begun and not subject.locked_option:
            yield (
                f"On {subject.subject} {subject.begun}, and no option of it is locked: the choice "
                "may still move it. Lock what is being done."
            )


def circles(links: Iterable[Link], *, kinds: tuple[str, ...]) -> tuple[tuple[Key, ...], ...]:
    """Groups of options each of which leads to all others of its group by links of these kinds.

    Examples
    --------
    >>> def link(one, two):
    ...     return Link(
    ...         kind="requires", subject=one, option="x", other_subject=two, other_option="x"
    ...     )
    >>> circles([link("a", "b"), link("b", "a"), link("b", "c")], kinds=("requires",))
    ((('a', 'x'), ('b', 'x')),)
    """
    after: dict[Key, list[Key]] = {}
    for link in links:
        if link.kind in kinds and link.other_option:
            here, there = (link.subject, link.option), (link.other_subject, link.other_option)
            after.setdefault(here, []).append(there)
    reached = {key: _reached(key, after) for key in after}
    groups = {
        tuple(sorted(k for k in reached[key] if key in reached.get(k, frozenset())))
        for key in after
        if key in reached[key]
    }
    return tuple(sorted(group for group in groups if len(group) > 1))


def _reached(start: Key, after: Mapping[Key, list[Key]]) -> frozenset[Key]:
    """What can be reached from an option, itself only by a way that leads back."""
    found: set[Key] = set()
    ahead = list(after.get(start, ()))
    while ahead:
        key = ahead.pop()
        if key not in found:
            found.add(key)
            ahead += after.get(key, ())
    return frozenset(found)
