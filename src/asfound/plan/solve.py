"""The plan that finishes first, as nearly as the search could prove."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field, replace

from asfound.base import EnoughError, InputError
from asfound.plan.draft import Draft
from asfound.plan.greedy import pushed_left
from asfound.plan.horizon import Outlook, look_out
from asfound.plan.nearest import nearest_draft
from asfound.plan.people_of_crews import name_people
from asfound.plan.plan import Placed, Plan, Progress, part_of
from asfound.plan.problem import PlanProblem

_SHARE_SECOND = 0.3
_GREEDY_DONE, _FIRST_DONE = 0.2, 0.8
"""Shares of the work told as done after the greedy plans and after the first aim."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Earlier:
    """What a new plan starts from.

    Parameters
    ----------
    held : mapping of str to Placed
        Tasks that have started, by name, with the end that is expected now; they stay.
    plan : Plan or None
        The plan so far: of all that finish as early as can be, the new one moves least.
    """

    held: Mapping[str, Placed] = field(default_factory=dict)
    plan: Plan | None = None


def plan(
    problem: PlanProblem,
    *,
    seed: int = 0,
    work_s: float = 10.0,
    earlier: Earlier | None = None,
    progress: Progress | None = None,
) -> Plan:
    """The plan that finishes first.

    Parameters
    ----------
    problem : PlanProblem
    seed : int
        Seed of every draw and of the solver.
    work_s : float
        Seconds of the solver's own clock, more than zero; the same on every machine.
    earlier : Earlier or None
        What has started and what was planned.
    progress : callable or None
        Called with the share done, 0–1; raise ``StoppedError`` in it to stop, or ``EnoughError``,
        each time it is called from then on, to be given the best so far.

    Returns
    -------
    Plan
        With a bound that no plan can beat. Of several cars it is the plan with the least Σ
        priority · (finish + 10 · lateness against the promised day) found in the time
        (`asfound.plan.cars.Cars`), with a bound of that; the finish of the last comes after it.

    Raises
    ------
    NoSolutionError
        If due days cannot be met together, or people are never in at the same time.
    InputError
        If the time is not more than zero.

    Notes
    -----
    Time is counted in ticks of the shop's open time, the largest that divides every amount, so
    nothing is rounded. A greedy plan gives the horizon, the longest chain and the work of each
    group of trades a first bound, and CP-SAT closes the gap between them.

    Examples
    --------
    >>> from asfound.plan import Hours, Person, Task, TaskLink, WorkingTime
    >>> ann = Person(person="Ann", trades=("trimmer",), time=WorkingTime.every_day(8))
    >>> sew, fit = (
    ...     Task(task=name, hours=Hours.sure(6), trade="trimmer") for name in ("sew", "fit")
    ... )
    >>> both = PlanProblem(
    ...     tasks=(fit, sew), links=(TaskLink(before="sew", after="fit"),), people=(ann,)
    ... )
    >>> found = plan(both)
    >>> [(p.task, p.start_min / 60, p.end_min / 60) for p in found.placed], found.days
    ([('sew', 8.0, 14.0), ('fit', 14.0, 36.0)], 1.5)
    """
    if not work_s > 0:
        raise InputError(field="work_s", got=work_s, allowed="more than zero")
    earlier = earlier or Earlier()
    _tell(progress, 0.0)
    greedy = part_of(progress, 0.0, _GREEDY_DONE)
    outlook = look_out(problem, earlier.held, seed=seed, progress=greedy)
    draft, least = _drafted(outlook, earlier, seed=seed, work_s=work_s, progress=progress)
    _tell(progress, 1.0)
    found = _as_plan(outlook, draft, outlook.least if outlook.cars.several else least, earlier)
    if not outlook.cars.several:
        return found
    cost = outlook.cars.cost(draft.end)
    return replace(found, cost=cost, cost_least=min(least, cost))


def _tell(progress: Progress | None, share: float) -> None:
    """How far it is; who has enough already is given the first greedy plan all the same."""
    with suppress(EnoughError):
        if progress:
            progress(share)


def _drafted(
    outlook: Outlook, earlier: Earlier, *, seed: int, work_s: float, progress: Progress | None
) -> tuple[Draft, int]:
    """The best draft that the solver came to, and the least finish or cost that any could have."""
    # The solver takes a second to load; who does not plan does not wait for it.
    from asfound.plan.first import first_aim  # noqa: PLC0415 - see above
    from asfound.plan.second import second_aim  # noqa: PLC0415 - see above

    first = part_of(progress, _GREEDY_DONE, _FIRST_DONE)
    draft, least = first_aim(
        outlook, seed=seed, work_s=work_s, anew=earlier.plan is None, progress=first
    )
    if earlier.plan is not None:
        draft = nearest_draft(outlook, draft, earlier.plan)
    draft = second_aim(
        outlook,
        draft,
        earlier=earlier.plan,
        seed=seed,
        work_s=work_s * _SHARE_SECOND,
        progress=part_of(progress, _FIRST_DONE, 1.0),
    )
    if earlier.plan is None:
        draft = pushed_left(outlook.shop, draft, fixed=outlook.fixed)
    return draft, least


def _as_plan(outlook: Outlook, draft: Draft, least: int, earlier: Earlier) -> Plan:
    shop, named = outlook.shop, outlook.shop.problem.named
    had = {p.task: p.people for p in earlier.plan.placed} if earlier.plan else {}
    had |= {name: placed.people for name, placed in earlier.held.items()}
    people = name_people(shop, draft, before=had)
    placed = []
    for name in shop.problem.order:
        if name in earlier.held:
            placed.append(earlier.held[name])
            continue
        work = named[name].hours.minutes > 0
        start = shop.time_of(draft.start[name], ending=False)
        end = shop.time_of(draft.end[name], ending=work)
        placed.append(Placed(task=name, start_min=start, end_min=end, people=people[name]))
    placed.sort(key=lambda p: (p.start_min, p.end_min))
    finish = max((p.end_min for p in placed), default=0)
    last = draft.finish
    least = min(least, last)
    return Plan(
        placed=tuple(placed),
        finish_min=finish,
        finish_least_min=finish if least >= last else shop.time_of(least, ending=True),
        days=shop.days_to(last),
        days_least=shop.days_to(least),
        cars=_cars(outlook, placed),
    )


def _cars(outlook: Outlook, placed: list[Placed]) -> dict[str, int]:
    """Finish of each car [min]."""
    ends: dict[str, int] = {}
    for one in placed:
        car = outlook.shop.problem.named[one.task].car
        ends[car] = max(ends.get(car, 0), one.end_min)
    return ends
