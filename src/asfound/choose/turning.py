"""When one decision turns: the exact numbers at which the piece is treated otherwise."""

from __future__ import annotations

from collections.abc import Sequence

from asfound.choose.answer import Choice
from asfound.choose.problem import Problem
from asfound.choose.search import Progress
from asfound.choose.turn import Turning
from asfound.choose.walks import Walks, tell_share


def turning(
    problem: Problem,
    choice: Choice,
    subject: str,
    *,
    time_limit_s: float = 30.0,
    progress: Progress | None = None,
) -> Turning:
    """The numbers at which one decision turns, each alone.

    Parameters
    ----------
    problem : Problem
    choice : Choice
        What ``choose`` returned for the problem, proved.
    subject : str
    time_limit_s : float
        Seconds of search.
    progress : callable or None
        Raise ``StoppedError`` in it to stop.

    Notes
    -----
    A choice is better when more of the car is kept or, as much being kept, when it costs less; a
    tie of both turns nothing. Let h(L) be the best choice within a limit of cost L that has the
    piece's option and g(L) the best that has not; both only rise with L. More money: nothing turns
    before the least L at which a choice without the option keeps more than h at the last limit
    looked at. There either g is better, and it turns, or the search goes on from it. Less
    money is the same walk down. So no limit between two looked at is left unproved. The limit of
    hours of each trade that the brief has is walked in the same way, up and down.

    The weight w moves one line for each option of the piece, A + w·kept, where A is the most that
    the rest of the car keeps with it: it turns where two lines cross. A dearer option leaves less
    for the rest, so it holds as long as a choice with it that beats g still fits.

    Examples
    --------
    >>> from asfound.choose import Brief, Option, Subject, choose
    >>> rows = [("leave", 0.5, 0), ("stabilise", 0.9, 200)]
    >>> problem = Problem(
    ...     subjects=(Subject(subject="sill"),),
    ...     options=tuple(
    ...         Option(subject="sill", option=o, treatment=o, kept=k, grade=1, cost=c)
    ...         for o, k, c in rows
    ...     ),
    ...     brief=Brief(cost_max=150),
    ... )
    >>> [turn.words for turn in turning(problem, choose(problem), "sill").turns]
    ["to 'stabilise' when the limit of cost rises to 200 (now 150)", \
"to 'stabilise' when that costs 150 or less (now 200)"]
    """
    return Walks(problem, choice, subject, time_limit_s=time_limit_s).all(progress)


def turnings(
    problem: Problem,
    choice: Choice,
    subjects: Sequence[str],
    *,
    time_limit_s: float = 30.0,
    progress: Progress | None = None,
) -> dict[str, Turning]:
    """The numbers at which several decisions turn, as :func:`turning`, in the order given.

    ``time_limit_s`` holds for all together; a subject that is not reached in it is absent.
    """
    found: dict[str, Turning] = {}
    left_s = time_limit_s
    for i, subject in enumerate(subjects):
        if left_s <= 0:
            break
        walks = Walks(problem, choice, subject, time_limit_s=left_s)
        found[subject] = walks.all()
        left_s = walks.held.model.left_s
        tell_share(progress, (i + 1) / len(subjects))
    return found
