"""What a brief forbids by kind of treatment: what must not be touched, what needs evidence."""

from __future__ import annotations

from collections.abc import Iterator

from asfound.choose.brief import Brief
from asfound.choose.problem import Option, Problem, Subject

LEAVES_ALONE = frozenset({"leave as found", "preventive care"})
"""The treatments that do not touch the piece itself (EN 15898: preventive conservation acts on
the surroundings; from memory)."""


def is_untouched(brief: Brief, subject: Subject) -> bool:
    """Whether the brief forbids to touch the piece.

    Notes
    -----
    A piece that is named itself is always held. A zone holds its pieces but for those of which
    something more particular is said: lives hang on them, they have a floor of their own, or a
    person has locked them.
    """
    if subject.subject in brief.untouched:
        return True
    own = subject.vital or subject.min_grade > 0 or bool(subject.locked_option)
    return bool(subject.zone) and subject.zone in brief.untouched and not own


def lacks_evidence(brief: Brief, subject: Subject, option: Option) -> bool:
    """Whether the treatment needs evidence of an earlier state and none is on record.

    A piece on which lives hang, or that a person has locked, is not held by it.
    """
    free = subject.has_evidence or subject.vital or bool(subject.locked_option)
    return option.treatment in brief.needs_evidence and not free


def forbidden(brief: Brief, subject: Subject, option: Option) -> bool:
    """Whether the brief forbids the option by its treatment."""
    touches = option.treatment not in LEAVES_ALONE and is_untouched(brief, subject)
    return touches or lacks_evidence(brief, subject, option)


def term_notices(problem: Problem) -> Iterator[str]:
    """Locked pieces that the brief by itself would hold otherwise."""
    brief = problem.brief
    options = {(o.subject, o.option): o for o in problem.options}
    for subject in problem.subjects:
        option = options.get((subject.subject, subject.locked_option))
        if option is None or subject.vital:
            continue
        here = f"{subject.subject} is locked to '{option.option}'"
        if subject.zone in brief.untouched and option.treatment not in LEAVES_ALONE:
            yield f"{here}, though the brief says that {subject.zone} must not be touched."
        if option.treatment in brief.needs_evidence and not subject.has_evidence:
            yield f"{here}: {option.treatment} needs evidence by the brief, and none is on record."
