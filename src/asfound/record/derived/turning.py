"""The numbers at which the decision on one piece turns."""

from __future__ import annotations

from collections.abc import Callable

from asfound.choose import Turning, turning
from asfound.record.convert.choice import choice_problem
from asfound.record.derived.choice import choice_key_of, chosen_now
from asfound.record.derived.kept import kept
from asfound.record.folder import CarFolder

TURNING_S = 120.0
"""Seconds of search for the numbers at which one decision turns; a page shows them as they come."""


def turning_of(
    folder: CarFolder, subject: str, *, progress: Callable[[float], None] | None = None
) -> Turning:
    """The numbers at which the decision on one piece turns.

    Raises
    ------
    InputFaultsError
        If the car has no option.
    NoSolutionError
        If nothing satisfies the brief.
    StoppedError
        If ``progress`` raised it.
    """
    return kept(
        turning_key(folder, subject),
        lambda: turning(
            choice_problem(folder),
            chosen_now(folder),
            subject,
            time_limit_s=TURNING_S,
            progress=progress,
        ),
    )


def turning_key(folder: CarFolder, subject: str) -> str:
    """Name under which :func:`turning_of` is kept."""
    return choice_key_of("turning_of", folder, subject=subject)
