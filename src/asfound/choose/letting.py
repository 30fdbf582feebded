"""Requirements that are let go instead of a number moved: what that needs and what it comes to."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from asfound.choose.arithmetic import Amount
from asfound.choose.clash import Clash
from asfound.choose.model import Model
from asfound.choose.problem import Problem
from asfound.choose.requirement import Requirement
from asfound.choose.search import build, most_kept
from asfound.choose.words import number


@dataclass(frozen=True, slots=True, kw_only=True)
class Letting:
    """One requirement that has no number, and what letting it go alone would come to.

    Parameters
    ----------
    kind : {"untouched", "evidence", "lock", "floor"}
    words : str
        The requirement as it stands.
    pieces : tuple of (subject, option)
        The fewest pieces that then have to be treated against it, with what they take.
    kept : float
        Share of the car's original fabric that the best choice then keeps, 0-1.
    cost : float
        What it costs over the whole car.
    """

    kind: str
    words: str
    pieces: tuple[tuple[str, str], ...]
    kept: float
    cost: float

    @property
    def let(self) -> str:
        """What is let, in words."""
        told = ", ".join(f"{subject} '{option}'" for subject, option in self.pieces)
        if self.kind == "untouched":
            return f"let this be touched: {told}"
        if self.kind == "evidence":
            return f"let this be done without evidence: {told}"
        if self.kind == "floor":
            return f"let this stay below its floor: {told}"
        then = ", ".join(f"{subject} would be '{option}'" for subject, option in self.pieces)
        return f"lift the lock: {then}"


def lettings(problem: Problem, clash: Clash, *, time_limit_s: float = 60.0) -> tuple[Letting, ...]:
    """What each requirement of a clash would come to if it alone were let go.

    Parameters
    ----------
    problem : Problem
    clash : Clash
        Why nothing satisfies the brief. Of the groups in one that is not the smallest, locks and
        floors are let go; ties, seams and waits are passed over.
    time_limit_s : float
        Seconds of search over all of them; one that is not answered in time is left out.

    Returns
    -------
    tuple of Letting
        Those that touch the fewest pieces first, then by what the car keeps, then by cost. What
        helps not even when it is let go altogether is left out.

    Notes
    -----
    The car is chosen again without the requirement, everything else as it is: first with the
    fewest pieces against it, then, with no more of them, for what keeps most and costs least. A
    lock on what was begun is never let go.
    """
    found: list[Letting] = []
    ways = list(_without(problem, clash))
    for requirement, freed in ways:
        let = _let(freed, requirement, time_limit_s=time_limit_s / len(ways))
        if let is not None:
            found.append(let)
    return tuple(sorted(found, key=lambda one: (len(one.pieces), -one.kept, one.cost, one.words)))


def _without(problem: Problem, clash: Clash) -> Iterator[tuple[Requirement, Problem]]:
    """Each requirement that can be let go, with the problem in which it is."""
    brief = problem.brief
    for requirement in clash.requirements:
        alone = frozenset({requirement.name})
        if requirement.kind == "untouched":
            freed = replace(brief, untouched=brief.untouched - alone)
            yield requirement, replace(problem, brief=freed)
        elif requirement.kind == "evidence":
            freed = replace(brief, needs_evidence=brief.needs_evidence - alone)
            yield requirement, replace(problem, brief=freed)
        elif requirement.kind == "lock":
            named = next(s for s in problem.subjects if s.subject == requirement.name)
            if not named.begun:
                yield requirement, _unlocked(problem, frozenset({requirement.name}))
        elif requirement.kind == "group" and requirement.name == "lock":
            yield requirement, _unlocked(problem, frozenset(s.subject for s in problem.subjects))
        elif requirement.kind == "group" and requirement.name == "floor":
            free = tuple(replace(s, min_grade=0.0) for s in problem.subjects)
            yield requirement, replace(problem, subjects=free)


def _unlocked(problem: Problem, names: frozenset[str]) -> Problem:
    """The problem without those locks; one on what was begun stays."""
    subjects = (
        replace(s, locked_option="") if s.subject in names and not s.begun else s
        for s in problem.subjects
    )
    return replace(problem, subjects=tuple(subjects))


def _let(freed: Problem, requirement: Requirement, *, time_limit_s: float) -> Letting | None:
    """The gentlest choice without the requirement; None where there is none or time was short."""
    against = {subject for subject, _ in requirement.bars}
    model = build(freed, time_limit_s=time_limit_s, whole=against)
    broken = _count(model, requirement)
    model.aim((broken, 1))
    fewest = model.run()
    if fewest.options is None or not fewest.ended:
        return None
    model.hold(broken, most=model.ledger.total(broken, fewest.options))
    best = most_kept(model, fewest.options)
    if best.options is None or not best.proved:
        return None
    ledger, options = model.ledger, best.options
    kept = ledger.kept.value(ledger.total(ledger.kept, options)) / ledger.weight
    return Letting(
        kind=requirement.name if requirement.kind == "group" else requirement.kind,
        words=requirement.words,
        pieces=tuple(sorted(requirement.bars.intersection(options.items()))),
        kept=float(kept),
        cost=float(ledger.cost.value(ledger.total(ledger.cost, options))),
    )


def _count(model: Model, requirement: Requirement) -> Amount:
    """How many pieces are treated against the requirement."""
    return Amount(
        name="against the brief",
        unit=Fraction(1),
        of={key: int(key in requirement.bars) for key in model.ledger.kept.of},
        saved={},
        opened={},
    )


def said(one: Letting) -> str:
    """A letting as a sentence of a message."""
    return (
        f" Or {one.let}; the car then keeps {one.kept:.1%} of its fabric and costs "
        f"{number(one.cost)}."
    )
