"""Why each piece got its option: the choice is made again without it."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing

from asfound.choose.answer import Choice
from asfound.choose.asked import Asked
from asfound.choose.problem import Problem
from asfound.choose.search import Progress
from asfound.choose.why import Why


def explain(
    problem: Problem,
    choice: Choice,
    *,
    limit: int | None = None,
    time_limit_s: float = 30.0,
    progress: Progress | None = None,
    known: Mapping[str, Why] | None = None,
    keep: Callable[[Why], None] | None = None,
    workers: int = 1,
) -> tuple[Why, ...]:
    """The reasons of a choice, the most contested subjects first.

    Parameters
    ----------
    problem : Problem
    choice : Choice
        What ``choose`` returned for the problem.
    limit : int or None
        At most so many reasons; None for all.
    time_limit_s : float
        Seconds of search over all subjects; those not reached are answered by the best swap of
        the subject alone and are not ``proved``.
    progress : callable or None
        Called after each; raise ``StoppedError`` in it to stop.
    known : mapping of str to Why or None
        Reasons of this choice that were found before and are not asked for again.
    keep : callable or None
        Given each reason as it is found, so that what was found is not lost when stopped.
    workers : int
        Threads that search beside each other, each over its own share of the subjects; the solver
        lets the others run.

    Returns
    -------
    tuple of Why
        Contested first, by the smallest loss; forced options last.
    """
    first = Asked(problem, choice, time_limit_s=time_limit_s)
    order = first.by_contest()[: limit if limit is not None else None]
    found = dict[str, Why]()
    new = [name for name in order if name not in (known or {})]
    more = (Asked(problem, choice, time_limit_s=time_limit_s) for _ in range(workers - 1))
    with closing(_beside([first, *(more if new else ())], new)) as answers:
        for i, name in enumerate(order):
            found[name] = (known or {}).get(name) or next(answers)
            if keep:
                keep(found[name])
            if progress:
                progress((i + 1) / len(order))
    return by_contest(found.values())


def _beside(asked: Sequence[Asked], names: Sequence[str]) -> Generator[Why, None, None]:
    """Reasons in the order given, sought by several beside each other, each its fixed share."""
    pools = [ThreadPoolExecutor(max_workers=1) for _ in asked]
    try:
        waiting = [
            pools[i % len(asked)].submit(asked[i % len(asked)].why, name)
            for i, name in enumerate(names)
        ]
        for one in waiting:
            yield one.result()
    finally:
        for pool in pools:
            pool.shutdown(cancel_futures=True)


def by_contest(whys: Iterable[Why]) -> tuple[Why, ...]:
    """Reasons with the smallest loss first, forced ones last."""
    return tuple(sorted(whys, key=_contest))


def _contest(why: Why) -> tuple[bool, float, str]:
    lost = why.kept_lost
    return (lost is None, 0.0 if lost is None else lost, why.subject)
