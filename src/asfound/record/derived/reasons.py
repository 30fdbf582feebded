"""The reasons of a choice that there was no time for at first."""

from __future__ import annotations

from collections.abc import Callable

from django.core.cache import cache

from asfound.choose import Why, explain
from asfound.record.convert.choice import choice_problem
from asfound.record.derived.choice import LARGE, WORKERS, choice_result, reasons_key
from asfound.record.folder import CarFolder

REASONS_S = 3600.0
"""Seconds of search for all reasons of a large car, behind its page, where it can be stopped."""


def exact_reasons(folder: CarFolder, *, progress: Callable[[float], None] | None = None) -> None:
    """Ask for the reasons that :func:`choice_result` had no time for; it tells them from then on.

    What was found when ``progress`` raises ``StoppedError`` is kept.
    """
    result = choice_result(folder)
    if result.choice is None:
        return
    found = {why.subject: why for why in result.whys if why.proved}

    def keep(why: Why) -> None:
        if why.proved:  # kept at once: who stops the search may end its process
            found[why.subject] = why
            cache.set(reasons_key(folder), found)

    try:
        explain(
            choice_problem(folder),
            result.choice,
            time_limit_s=REASONS_S,
            known=dict(found),
            keep=keep,
            progress=progress,
            workers=WORKERS if len(result.whys) >= LARGE else 1,
        )
    finally:
        cache.set(reasons_key(folder), found)
