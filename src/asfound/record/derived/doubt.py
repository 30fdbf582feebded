"""Which decisions of a choice hold within the doubt."""

from __future__ import annotations

from collections.abc import Callable

from asfound.choose import Robustness, robustness
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.doubts import doubt_of
from asfound.record.derived.choice import choice_key_of, chosen_now
from asfound.record.derived.evidence import LEDGER_TABLES, weighed_evidence
from asfound.record.derived.kept import kept
from asfound.record.folder import CarFolder


def decisions_in_doubt(
    folder: CarFolder, *, draws: int, progress: Callable[[float], None] | None = None
) -> Robustness:
    """Which decisions of the choice hold when hours, costs and verdicts vary within their doubt.

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
        doubt_key(folder, draws=draws),
        lambda: robustness(
            choice_problem(folder),
            chosen_now(folder).options,
            doubt=doubt_of(folder, weighed=weighed_evidence(folder)),
            draws=draws,
            progress=progress,
        ),
    )


def doubt_key(folder: CarFolder, *, draws: int) -> str:
    """Name under which :func:`decisions_in_doubt` is kept."""
    return choice_key_of("decisions_in_doubt", folder, tables=LEDGER_TABLES, draws=draws)
