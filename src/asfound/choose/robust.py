"""Which decisions stand when hours, costs and verdicts are not what they are taken for."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Mapping
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace

import numpy as np

from asfound.base import InputError, NoSolutionError
from asfound.choose.arithmetic import Key
from asfound.choose.couplings import Opening
from asfound.choose.problem import Option, Problem
from asfound.choose.search import Progress, build, most_kept

FIRM_SHARE = 0.95
_DIGITS = 2  # of drawn hours and costs: finer than anyone estimates, coarse enough to be exact


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """How far the numbers of a choice may be off.

    Parameters
    ----------
    work : mapping of (subject, option) to float
        Relative standard doubt of an option's hours and cost, 0 or more; absent is none.
    original : mapping of str to float
        Probability that a subject's fabric is original, 0–1; absent is certain.
    """

    work: Mapping[Key, float]
    original: Mapping[str, float]

    def __post_init__(self) -> None:
        for doubt in self.work.values():
            if not (math.isfinite(doubt) and doubt >= 0):
                raise InputError(field="doubt", got=doubt, allowed="a finite number, zero or more")
        for chance in self.original.values():
            if not 0 <= chance <= 1:
                raise InputError(field="original", got=chance, allowed="between 0 and 1")


@dataclass(frozen=True, slots=True, kw_only=True)
class Firmness:
    """How often one decision came out the same.

    Parameters
    ----------
    subject, option : str
    share : float
        Part of the draws in which the option was chosen, 0–1.
    rival : str
        The option chosen most often instead; empty when there was none.
    """

    subject: str
    option: str
    share: float
    rival: str

    @property
    def is_firm(self) -> bool:
        """Whether it holds in at least 95 % of the draws."""
        return self.share >= FIRM_SHARE


@dataclass(frozen=True, slots=True, kw_only=True)
class Robustness:
    """What many draws within the doubt say about a choice.

    Parameters
    ----------
    decisions : tuple of Firmness
        The most contested first.
    draws_n, possible_n : int
        Draws made, and those in which the brief could be met.
    """

    decisions: tuple[Firmness, ...]
    draws_n: int
    possible_n: int

    @property
    def u_share(self) -> float:
        """Largest standard uncertainty of a share, from the number of draws alone."""
        return 0.5 / math.sqrt(max(1, self.possible_n))


def robustness(
    problem: Problem,
    options: Mapping[str, str],
    *,
    doubt: Doubt,
    draws: int = 200,
    seed: int = 0,
    workers: int = 2,
    time_limit_s: float = 10.0,
    progress: Progress | None = None,
) -> Robustness:
    """How often each decision of a choice is made again when the numbers vary within their doubt.

    Parameters
    ----------
    problem : Problem
    options : mapping of str to str
        The choice that is asked about.
    doubt : Doubt
    draws : int
        1 or more.
    seed : int
        The same seed gives the same answer, whatever the number of workers.
    workers : int
        Draws solved side by side, 1 or more.
    time_limit_s : float
        Seconds for each draw; a draw cut short counts with the best choice found.
    progress : callable or None
        Called with the share done, 0–1; raise ``StoppedError`` in it to stop.

    Raises
    ------
    InputError
        If not even one draw or worker is asked for.
    StoppedError
        If ``progress`` raised it.

    Notes
    -----
    Hours and cost of an option are multiplied by one factor, lognormal with mean 1 and the
    relative standard deviation that the doubt says; options are drawn apart from each other. The
    weight of a subject counts in a draw with the probability that its fabric is original. The
    limits of the brief stay. Draws in which the brief cannot be met are counted but decide nothing.
    """
    if draws < 1:
        raise InputError(field="draws", got=draws, allowed="1 or more")
    if workers < 1:
        raise InputError(field="workers", got=workers, allowed="1 or more")
    counts: dict[str, Counter[str]] = {name: Counter() for name in options}
    possible = 0
    with ThreadPoolExecutor(max_workers=workers) as pool:
        answers = pool.map(
            lambda i: _answer(_drawn(problem, doubt, seed, i), time_limit_s), range(draws)
        )
        try:
            for i, answer in enumerate(answers):
                possible += answer is not None
                for subject, option in (answer or {}).items():
                    counts[subject][option] += 1
                if progress:
                    progress((i + 1) / draws)
        except BaseException:
            pool.shutdown(wait=False, cancel_futures=True)
            raise
    decisions = [_firmness(name, options[name], counts[name], possible) for name in options]
    return Robustness(
        decisions=tuple(sorted(decisions, key=lambda d: (d.share, d.subject))),
        draws_n=draws,
        possible_n=possible,
    )


def _firmness(subject: str, option: str, counted: Counter[str], possible: int) -> Firmness:
    others = sorted((-n, o) for o, n in counted.items() if o != option)
    return Firmness(
        subject=subject,
        option=option,
        share=counted[option] / possible if possible else 0.0,
        rival=others[0][1] if others else "",
    )


def _answer(problem: Problem, time_limit_s: float) -> Mapping[str, str] | None:
    try:
        return most_kept(build(problem, time_limit_s=time_limit_s), then_hours=False).options
    except NoSolutionError:
        return None


def _drawn(problem: Problem, doubt: Doubt, seed: int, place: int) -> Problem:
    """The problem with one draw of its numbers."""
    rng = np.random.default_rng([seed, place])
    normal = rng.standard_normal(len(problem.options))
    chance = rng.random(len(problem.subjects))
    rows = tuple(
        _varied(o, doubt.work.get((o.subject, o.option), 0.0), float(z))
        for o, z in zip(problem.options, normal, strict=True)
    )
    kept = tuple(
        s if u < doubt.original.get(s.subject, 1.0) else replace(s, weight=0.0)
        for s, u in zip(problem.subjects, chance, strict=True)
    )
    if not any(s.weight for s in kept):
        kept = problem.subjects
    named = {(o.subject, o.option): o for o in rows}
    openings = tuple(_within(o, [named[key] for key in o.users]) for o in problem.openings)
    return replace(problem, options=rows, subjects=kept, openings=openings)


def _varied(option: Option, doubt: float, normal: float) -> Option:
    if not doubt:
        return option
    spread = math.sqrt(math.log1p(doubt**2))
    factor = math.exp(spread * normal - spread**2 / 2)
    return replace(
        option,
        cost=round(option.cost * factor, _DIGITS),
        hours={trade: round(h * factor, _DIGITS) for trade, h in option.hours.items()},
    )


def _within(opening: Opening, users: Iterable[Option]) -> Opening:
    """The opening, no larger than what any of its users takes in this draw."""
    taken = list(users)
    return replace(
        opening,
        cost=min([opening.cost, *(o.cost for o in taken)]),
        hours={
            trade: min([h, *(o.hours.get(trade, 0.0) for o in taken)])
            for trade, h in opening.hours.items()
        },
    )
