"""The reason for one subject's option, in words, and what would change it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from asfound.choose.eligible import floor_of
from asfound.choose.exactly import exact
from asfound.choose.problem import Option, Problem, Subject
from asfound.choose.swap import Swap
from asfound.choose.terms import forbidden, is_untouched
from asfound.choose.words import number

NEVER = "never within this brief"
LEAST_SHARE = 0.001
"""The least share of the car that is told in figures."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Reason:
    """Why an option stands, and what would change it, in words."""

    because: str
    flips_when: str


def percent(share: float) -> str:
    """A share of the car's fabric in per cent: two telling digits, tenths at the finest.

    What an option keeps is judged by eye, so a thousandth of the car is no finding.

    Examples
    --------
    >>> percent(0.0123), percent(0.25), percent(0.0000123)
    ('1.2 %', '25 %', 'less than 0.1 %')
    """
    if 0 < share < LEAST_SHARE:
        return f"less than {LEAST_SHARE:.1%}".replace("%", " %")
    return f"{float(f'{share * 100:.2g}'):.1f}".removesuffix(".0") + " %"


def forced(problem: Problem, subject: Subject, options: list[Option]) -> Reason | None:
    """The reason when lock, safety or floor leave one option only; None otherwise."""
    if subject.locked_option and subject.begun:
        return Reason(
            because=f"{subject.begun}, and what was begun is held to '{subject.locked_option}'",
            flips_when="when the owner signs a change order",
        )
    if subject.locked_option:
        return Reason(
            because=f"locked to '{subject.locked_option}'", flips_when="when the lock is lifted"
        )
    floor = floor_of(problem, subject)
    safe = [o for o in options if o.safe]
    if len(options) == 1:
        return Reason(because="the only option", flips_when="when it has another option")
    if len(safe) == 1:
        return Reason(because="the only safe option", flips_when="never: no other option is safe")
    if sum(o.grade >= floor for o in safe) == 1:
        next_grade = max(o.grade for o in safe if o.grade < floor)
        return Reason(
            because=f"the only option that meets floor {number(floor)}",
            flips_when=f"when its floor falls to {number(next_grade)}",
        )
    return _by_terms(problem, subject, [o for o in safe if o.grade >= floor])


def _by_terms(problem: Problem, subject: Subject, open_: list[Option]) -> Reason | None:
    """The reason when what must not be touched, or lacks evidence, leaves one option only."""
    brief = problem.brief
    if sum(not forbidden(brief, subject, o) for o in open_) != 1:
        return None
    if is_untouched(brief, subject):
        return Reason(
            because="the only option that does not touch it, as the brief asks",
            flips_when="when the brief lets it be touched",
        )
    return Reason(
        because="the only option for which the brief asks no evidence that is missing",
        flips_when="when evidence of its earlier state is on record",
    )


def only_possible() -> Reason:
    """The reason when no choice within the brief does without the option."""
    return Reason(
        because="no choice within the brief does without it; the other requirements force it",
        flips_when=NEVER,
    )


def held_back(better: Swap, otherwise: str) -> Reason:
    """The reason when another option would keep more of this subject but does not fit.

    ``otherwise`` says what the option that stands is worth.
    """
    why = "; ".join(s.words for s in better.shortages)
    remedy = " and ".join(s.remedy for s in better.shortages)
    return Reason(
        because=f"'{better.option}' would keep more here, but {why}; {otherwise}",
        flips_when=f"to '{better.option}' when {remedy}",
    )


def forces(option: str) -> str:
    """That no choice does without an option."""
    return f"no choice within the brief does without '{option}'"


def loses(option: str, lost: Fraction) -> str:
    """What the car would lose without an option."""
    return f"without '{option}' the car would lose {percent(float(lost))} of original fabric"


def tie(option: str, dearer: Fraction) -> Reason:
    """The reason when the whole car keeps as much without the option."""
    if dearer > 0:
        more = number(float(dearer))
        return Reason(
            because=f"keeps as much as with '{option}' and saves {more} over the whole car",
            flips_when=f"to '{option}' when that costs {more} less",
        )
    return Reason(
        because=f"keeps as much as with '{option}', for the same money and in no more hours",
        flips_when=f"to '{option}' when this option costs more",
    )


def best_kept(
    subject: Subject, mine: Option, other: Option, lost: Fraction, weight: Fraction
) -> Reason:
    """The reason when the option wins within the brief by what the whole car keeps."""
    return Reason(
        because="best kept within the brief; changing it would lose "
        f"{percent(float(lost))} of original fabric over the whole car",
        flips_when=_by_weight(subject, mine, other, lost * weight),
    )


def _by_weight(subject: Subject, mine: Option, other: Option, lost: Fraction) -> str:
    """The weight at which the runner-up's choice keeps as much.

    The best choice with each option is worth A + w·kept, and only w moves, so the two lines
    cross at w − lost / (kept of mine − kept of other).
    """
    difference = exact(mine.kept) - exact(other.kept)
    if difference == 0:
        return f"to '{other.option}' when other pieces count more; its own weight changes nothing"
    crossing = exact(subject.weight) - lost / difference
    if crossing <= 0:
        return f"not by its own weight, even at 0; the nearest is '{other.option}'"
    verb = "falls below" if difference > 0 else "rises above"
    now = number(subject.weight)
    at = number(float(f"{float(crossing):.3g}"))
    if at == now:
        return f"to '{other.option}' as soon as its weight {verb} {now}, where it stands now"
    return f"to '{other.option}' when its weight {verb} {at} (now {now})"
