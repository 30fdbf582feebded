"""What is to be chosen: subjects, their options, the links between options, and the brief."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from asfound.base import InputError
from asfound.choose.brief import Brief
from asfound.choose.couplings import Opening, Seam
from asfound.choose.lawful import at_least_zero

LinkKind = Literal["requires", "excludes", "shares", "waits"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Option:
    """One way to treat one subject.

    Parameters
    ----------
    subject, option : str
        Together they name the option.
    treatment : str
        The treatment's term (conservation vocabulary).
    kept : float
        Share of the subject's original fabric that is kept, 0–1.
    grade : float
        Finish reached, 0–5.
    cost : float
        In the car's currency, zero or more.
    hours : mapping of str to float
        Hours by trade, zero or more each.
    safe : bool
        False means it must never be chosen.
    undoable : {"yes", "partly", "no"}
        Whether the treatment can be undone.
    """

    subject: str
    option: str
    treatment: str
    kept: float
    grade: float
    cost: float
    hours: Mapping[str, float] = field(default_factory=dict)
    safe: bool = True
    undoable: Literal["yes", "partly", "no"] = "partly"

    def __post_init__(self) -> None:
        if not 0 <= self.kept <= 1:
            raise InputError(field="kept", got=self.kept, allowed="between 0 and 1")
        if not 0 <= self.grade <= 5:
            raise InputError(field="grade", got=self.grade, allowed="between 0 and 5")
        at_least_zero("cost", self.cost)
        for trade, hours in self.hours.items():
            at_least_zero(f"hours_{trade}", hours)


LEAST_WEIGHT = 1e-9
"""The least weight above zero; smaller ones drown in the solver's arithmetic."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """A piece or area on which a decision is taken.

    Parameters
    ----------
    subject : str
    weight : float
        Significance of its original fabric, zero or more.
    min_grade : float
        Lowest finish allowed on this subject.
    zone : str
        The zone of the brief it belongs to; empty for none.
    locked_option : str
        The option that a person has fixed; empty for none.
    begun : str
        Why it cannot be fixed otherwise, such as "work began on 2026-11-25"; empty where nothing
        was begun.
    vital : bool
        Whether lives hang on it.
    has_evidence : bool
        Whether evidence of its earlier state is on record.
    """

    subject: str
    weight: float = 1.0
    min_grade: float = 0.0
    zone: str = ""
    locked_option: str = ""
    begun: str = ""
    vital: bool = False
    has_evidence: bool = False

    def __post_init__(self) -> None:
        at_least_zero("weight", self.weight)
        if 0 < self.weight < LEAST_WEIGHT:
            raise InputError(
                field="weight",
                got=self.weight,
                allowed=f"0, or from {LEAST_WEIGHT:.9f} up",
                remedy=f"Give “{self.subject}” no weight, or one that can be told from none.",
            )
        at_least_zero("min_grade", self.min_grade)


@dataclass(frozen=True, slots=True, kw_only=True)
class Link:
    """A tie between two options.

    ``requires``: if the first is chosen, the second must be. ``excludes``: not both.
    ``shares``: when both are chosen, ``saves_cost`` and ``saves_hours`` (of ``trade``) are
    saved once. ``waits``: the first destroys evidence that the other piece rests on. With an
    ``other_option``, that option must be chosen too, and its work comes first; without one, the
    first may be chosen only when a person has locked the other piece.
    """

    kind: LinkKind
    subject: str
    option: str
    other_subject: str
    other_option: str
    saves_cost: float = 0.0
    saves_hours: float = 0.0
    trade: str = ""
    why: str = ""

    def __post_init__(self) -> None:
        at_least_zero("saves_cost", self.saves_cost)
        at_least_zero("saves_hours", self.saves_hours)
        if self.saves_hours and not self.trade:
            raise InputError(
                field="trade", got=self.trade, allowed="named where saves_hours is more than zero"
            )
        if not self.other_option and self.kind != "waits":
            raise InputError(
                field="other_option", got=self.other_option, allowed="named, except where it waits"
            )

    @property
    def binds(self) -> bool:
        """Whether it forbids pairs of options: not what only saves, nor what waits for a lock."""
        return self.kind != "shares" and bool(self.other_option)


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """The whole choice over one car; every name it uses is declared in it.

    Raises
    ------
    InputError
        If names are not unique, a link, a coupling or a lock points to an option that does not
        exist, a subject has no option, or an opening takes more than an option that needs it.
    """

    subjects: tuple[Subject, ...]
    options: tuple[Option, ...]
    links: tuple[Link, ...] = ()
    brief: Brief = field(default_factory=Brief)
    seams: tuple[Seam, ...] = ()
    openings: tuple[Opening, ...] = ()

    def __post_init__(self) -> None:
        names = [s.subject for s in self.subjects]
        if len(set(names)) != len(names):
            raise InputError(field="subjects", got=names, allowed="unique by name")
        keys = [(o.subject, o.option) for o in self.options]
        known = set(keys)
        if len(known) != len(keys):
            raise InputError(field="options", got=keys, allowed="unique by subject and option")
        with_options = {subject for subject, _ in keys}
        if with_options != set(names):
            odd = sorted(with_options ^ set(names))
            raise InputError(
                field="options", got=odd, allowed="given for every subject and no other"
            )
        for link in self.links:
            _check_link(link, known, set(names))
        for subject in self.subjects:
            if subject.locked_option and (subject.subject, subject.locked_option) not in known:
                raise InputError(
                    field="locked_option",
                    got=(subject.subject, subject.locked_option),
                    allowed="one of the subject's options",
                )
        for seam in self.seams:
            _check_seam(seam, known, set(names))
        for opening in self.openings:
            _check_opening(opening, {(o.subject, o.option): o for o in self.options})


def _check_link(link: Link, known: set[tuple[str, str]], names: set[str]) -> None:
    ends = [(link.subject, link.option)]
    if link.other_option:
        ends.append((link.other_subject, link.other_option))
    elif link.other_subject not in names or link.other_subject == link.subject:
        raise InputError(
            field="links", got=link.other_subject, allowed="to another subject that exists"
        )
    for end in ends:
        if end not in known:
            raise InputError(field="links", got=end, allowed="between options that exist")


def _check_seam(seam: Seam, known: set[tuple[str, str]], names: set[str]) -> None:
    for name in (seam.subject, seam.other_subject):
        if name not in names:
            raise InputError(field="seams", got=name, allowed="between subjects that exist")
    for one, two in seam.steps:
        for end in ((seam.subject, one), (seam.other_subject, two)):
            if end not in known:
                raise InputError(field="seams", got=end, allowed="between options that exist")


def _check_opening(opening: Opening, options: Mapping[tuple[str, str], Option]) -> None:
    for key in opening.users:
        option = options.get(key)
        if option is None:
            raise InputError(field="openings", got=key, allowed="for options that exist")
        own = {"cost": option.cost, **option.hours}
        for name, value in (("cost", opening.cost), *opening.hours.items()):
            if value > own.get(name, 0.0):
                raise InputError(
                    field=f"{name} of taking {opening.thing} off",
                    got=value,
                    allowed=f"at most what {key[0]} '{key[1]}' takes in all, {own.get(name, 0.0)}",
                    remedy="Each option's own numbers include the work of opening up.",
                )
