"""The exact choice over the whole car."""

from __future__ import annotations

from asfound.base import InputError
from asfound.choose.answer import Choice, sum_up
from asfound.choose.problem import Problem
from asfound.choose.refusal import refusal
from asfound.choose.search import Progress, build, most_kept


def choose(
    problem: Problem, *, time_limit_s: float = 60.0, progress: Progress | None = None
) -> Choice:
    """The choice that keeps most of the car's original fabric within the brief.

    Parameters
    ----------
    problem : Problem
    time_limit_s : float
        Seconds of search after which the best choice so far is returned as not proved; more
        than zero.
    progress : callable or None
        Called with the share done, 0–1; raise ``StoppedError`` in it to stop.

    Returns
    -------
    Choice
        Every requirement of the brief is met, checked in exact arithmetic.

    Raises
    ------
    NoSolutionError
        If nothing satisfies the brief; ``clash`` names a smallest set of requirements that
        cannot hold together.
    InputError
        If all weights are zero, or no choice was found within ``time_limit_s``.

    Notes
    -----
    maximise Σ w·kept / Σ w over one option a subject, subject to cost and hours limits, floors,
    links, locks and safety. Ties go to the lower cost, then to fewer hours in all, each by a
    search of its own in which what was reached before is held. Amounts are whole numbers of
    their own smallest unit, so the stages do not blur into each other.

    Examples
    --------
    >>> from asfound.choose import Brief, Option, Subject
    >>> rows = [("leave", 1.0, 0, 0), ("clean", 0.9, 2, 60), ("refinish", 0.1, 5, 900)]
    >>> options = tuple(
    ...     Option(subject="bonnet", option=o, treatment=o, kept=k, grade=g, cost=c)
    ...     for o, k, g, c in rows
    ... )
    >>> bonnet = Subject(subject="bonnet", min_grade=2)
    >>> choose(Problem(subjects=(bonnet,), options=options)).options
    {'bonnet': 'clean'}
    """
    if not time_limit_s > 0:
        raise InputError(field="time_limit_s", got=time_limit_s, allowed="more than zero")
    if progress:
        progress(0.0)
    model = build(problem, time_limit_s=time_limit_s)
    found = most_kept(model)
    if found.options is None:
        raise refusal(problem, proved=found.proved, time_limit_s=time_limit_s, progress=progress)
    if progress:
        progress(1.0)
    return sum_up(problem, model.ledger, found.options, proved=found.proved, gap=found.gap)
