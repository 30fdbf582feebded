"""What ties whole pieces together: seams between neighbours, and work that is opened up once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Literal

from asfound.base import InputError
from asfound.choose.exactly import exact

Measure = Literal["grade", "colour"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """Two neighbours that must not differ by more than a step where they meet.

    Parameters
    ----------
    subject, other_subject : str
    measure : {"grade", "colour"}
        What is compared: the finish reached, or the colour difference ΔE00.
    most : float
        The largest step that may stand, zero or more.
    steps : mapping of (str, str) to float
        The step between an option of the subject and one of the other, zero or more. A pair
        that is not listed is not known and may stand.
    why : str
    """

    subject: str
    other_subject: str
    measure: Measure
    most: float
    steps: Mapping[tuple[str, str], float]
    why: str = ""

    def __post_init__(self) -> None:
        if self.subject == self.other_subject:
            raise InputError(
                field="other_subject", got=self.other_subject, allowed="another than the subject"
            )
        for name, value in (("most", self.most), *(("steps", s) for s in self.steps.values())):
            if not (math.isfinite(value) and value >= 0):
                raise InputError(field=name, got=value, allowed="a finite number, zero or more")

    def forbids(self, option: str, other_option: str) -> bool:
        """Whether the two options may not stand beside each other."""
        step = self.steps.get((option, other_option))
        return step is not None and exact(step) > exact(self.most)

    def broken_by(self, options: Mapping[str, str]) -> bool:
        """Whether a choice breaks the seam."""
        here, there = options.get(self.subject), options.get(self.other_subject)
        return here is not None and there is not None and self.forbids(here, there)


def grade_steps(
    one: Mapping[str, float], other: Mapping[str, float]
) -> dict[tuple[str, str], float]:
    """The step in finish between each option of two neighbours.

    Parameters
    ----------
    one, other : mapping of str to float
        Grade by option, 0–5.

    Examples
    --------
    >>> grade_steps({"clean": 1.2}, {"refinish": 4.5})
    {('clean', 'refinish'): 3.3}
    """
    return {
        (a, b): float(abs(exact(grade) - exact(grade_there)))
        for a, grade in one.items()
        for b, grade_there in other.items()
    }


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """Work of taking one thing off the car and putting it back, shared by all who need it off.

    Each option carries this work in its own money and hours; when several of them are chosen it
    is done once and saved for all but one.

    Parameters
    ----------
    thing : str
        What comes off.
    users : tuple of (subject, option)
        The options that need it off, each once.
    cost : float
        Money of the opening within each option's cost, zero or more.
    hours : mapping of str to float
        Hours of it by trade within each option's hours, zero or more.
    why : str
    """

    thing: str
    users: tuple[tuple[str, str], ...]
    cost: float = 0.0
    hours: Mapping[str, float] = field(default_factory=dict)
    why: str = ""

    def __post_init__(self) -> None:
        if len(set(self.users)) != len(self.users):
            raise InputError(field="users", got=self.users, allowed="each option once")
        for name, value in (("cost", self.cost), *self.hours.items()):
            if not (math.isfinite(value) and value >= 0):
                raise InputError(field=name, got=value, allowed="a finite number, zero or more")

    def chosen(self, options: Mapping[str, str]) -> int:
        """How many of its users a choice holds."""
        return sum(options.get(subject) == option for subject, option in self.users)


def forbidden_blocks(
    seam: Seam, here: Iterable[str], there: Iterable[str]
) -> tuple[tuple[frozenset[str], frozenset[str]], ...]:
    """Blocks of options that forbid each other, the largest only, covering every forbidden pair.

    Of all options in a block, on both sides together, at most one can be chosen.

    Notes
    -----
    For each option the block is what it forbids, and every option that forbids at least that.
    For a step in grade these are "at least so high here" against "more than a step lower there".
    """
    options, others = tuple(here), tuple(there)
    barred = {a: frozenset(b for b in others if seam.forbids(a, b)) for a in options}
    blocks = {
        (frozenset(a for a in options if barred[a] >= wanted), wanted)
        for wanted in barred.values()
        if wanted
    }
    return tuple(sorted(blocks, key=lambda block: (sorted(block[0]), sorted(block[1]))))
