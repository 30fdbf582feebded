"""What is decided about the invented car, and what hangs on the owner's limits."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from asfound.base import NoSolutionError
from asfound.choose import Brief, Choice, Problem, choose
from asfound.record.convert.choice import choice_problem
from asfound.record.derived import choice_result
from asfound.record.folder import CarFolder

COST = "cost"
_CONTESTED_N = 3
_STEP = 0.05
"""By how much the limit of cost is moved to see which pieces hang on it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """A limit of the brief, what the choice takes of it, and what lifting it alone would keep.

    ``name`` is ``cost`` or a trade.
    """

    name: str
    taken: float
    most: float
    gain_kept: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Contested:
    """A piece whose option changes when the limit of cost is moved by ``step``.

    ``with_less`` and ``with_more`` are its options then.
    """

    subject: str
    option: str
    with_less: str
    with_more: str
    step: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Findings:
    """Choice over the car, its limits and the most contested pieces.

    ``choice`` is ``None`` where nothing satisfies the brief; ``clash`` then says why.
    """

    choice: Choice | None
    clash: tuple[str, ...] = ()
    limits: tuple[Limit, ...] = ()
    contested: tuple[Contested, ...] = ()


def find(car: CarFolder) -> Findings:
    """Findings about a car that has options and a brief.

    The choice is the one that the pages and the dossier show, computed once.
    """
    result = choice_result(car)
    if result.choice is None:
        return Findings(choice=None, clash=result.clash)
    problem = choice_problem(car)
    return Findings(
        choice=result.choice,
        limits=limits_of(problem, result.choice),
        contested=contested_of(problem, result.choice)[:_CONTESTED_N],
    )


def limits_of(problem: Problem, choice: Choice) -> tuple[Limit, ...]:
    """Limits of cost and hours; each is lifted alone to see what it holds back."""
    taken: Mapping[str, float] = {COST: choice.cost, **choice.hours}
    return tuple(
        Limit(
            name=name,
            taken=taken.get(name, 0.0),
            most=most,
            gain_kept=choose(replace(problem, brief=lifted)).kept - choice.kept,
        )
        for name, most, lifted in _lifted(problem.brief)
    )


def contested_of(problem: Problem, choice: Choice) -> tuple[Contested, ...]:
    """Pieces that change with a twentieth less or more money, those with most at stake first."""
    most = problem.brief.cost_max
    if most is None:
        return ()
    less = _chosen_for(problem, most * (1 - _STEP)) or choice.options
    more = _chosen_for(problem, most * (1 + _STEP)) or choice.options
    found = [
        Contested(
            subject=subject,
            option=option,
            with_less=less[subject],
            with_more=more[subject],
            step=most * _STEP,
        )
        for subject, option in choice.options.items()
        if {less[subject], more[subject]} != {option}
    ]
    kept = {(o.subject, o.option): o.kept for o in problem.options}
    weight = {s.subject: s.weight for s in problem.subjects}

    def stake(piece: Contested) -> float:
        shares = [kept[piece.subject, o] for o in (piece.option, piece.with_less, piece.with_more)]
        return weight[piece.subject] * (max(shares) - min(shares))

    return tuple(sorted(found, key=lambda piece: (-stake(piece), piece.subject)))


def _chosen_for(problem: Problem, cost_max: float) -> Mapping[str, str] | None:
    try:
        return choose(replace(problem, brief=replace(problem.brief, cost_max=cost_max))).options
    except NoSolutionError:
        return None


def _lifted(brief: Brief) -> list[tuple[str, float, Brief]]:
    """Each limit with the brief that lacks it."""
    out = []
    if brief.cost_max is not None:
        out.append((COST, brief.cost_max, replace(brief, cost_max=None)))
    for trade, hours in brief.hours_max.items():
        others = {name: most for name, most in brief.hours_max.items() if name != trade}
        out.append((trade, hours, replace(brief, hours_max=others)))
    return out
