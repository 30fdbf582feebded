"""The choice over a car with its front and its reasons, or what clashes."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from django.conf import settings
from django.core.cache import cache

from asfound.base import NoSolutionError
from asfound.choose import Choice, Front, Why, by_contest, choose, explain, forcing_limits, front
from asfound.record.convert.begun import begun_pieces
from asfound.record.convert.brief_terms import grounds_of
from asfound.record.convert.choice import choice_problem
from asfound.record.derived.kept import kept, key_of
from asfound.record.folder import CarFolder

CHOICE_TABLES = ("options", "option_links", "subjects", "colour", "criteria", "significance")
POINTS = 30
WORKERS, LARGE = 2, 100
"""Threads that look for the reasons of a car of so many pieces or more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ChoiceResult:
    """The choice over a car, or what clashes.

    Parameters
    ----------
    choice : Choice or None
        ``None`` when nothing satisfies the requirements.
    front : Front or None
    whys : tuple of Why
    clash : tuple of str
        The requirements that cannot hold together; empty when there is a choice.
    forced : mapping of str to tuple of str
        By subject, the limits each of which, lifted alone, would change its option.
    """

    choice: Choice | None
    front: Front | None = None
    whys: tuple[Why, ...] = ()
    clash: tuple[str, ...] = ()
    forced: Mapping[str, tuple[str, ...]] = field(default_factory=dict)


def choice_result(folder: CarFolder, *, points: int = POINTS) -> ChoiceResult:
    """Choice over the car with its front of at most ``points`` points and its reasons.

    Raises
    ------
    InputFaultsError
        If the car has no option.
    """
    result = kept(choice_key(folder, points=points), lambda: _choose(folder, points))
    if not settings.configured or all(why.proved for why in result.whys):
        return result
    more = cache.get(reasons_key(folder), {})
    return replace(result, whys=by_contest(more.get(why.subject, why) for why in result.whys))


def choice_key(folder: CarFolder, *, points: int = POINTS) -> str:
    """Name under which :func:`choice_result` is kept."""
    return choice_key_of("choice_result", folder, points=points)


def has_choice_result(folder: CarFolder, *, points: int = POINTS) -> bool:
    """Whether :func:`choice_result` would answer at once."""
    return settings.configured and cache.get(choice_key(folder, points=points)) is not None


def reasons_key(folder: CarFolder) -> str:
    """Name under which the reasons that were found later are kept."""
    return choice_key_of("exact_reasons", folder)


def chosen_now(folder: CarFolder) -> Choice:
    """Choice over the car alone, without its front and its reasons.

    Raises
    ------
    InputFaultsError
        If the car has no option.
    NoSolutionError
        If nothing satisfies the brief.
    """
    key = choice_key_of("chosen_now", folder)
    return kept(key, lambda: choose(choice_problem(folder)))


def _choose(folder: CarFolder, points: int) -> ChoiceResult:
    problem = choice_problem(folder)
    try:
        choice = chosen_now(folder)
    except NoSolutionError as error:
        return ChoiceResult(choice=None, clash=error.clash)
    return ChoiceResult(
        choice=choice,
        front=front(problem, points=points),
        whys=explain(problem, choice, workers=WORKERS if len(choice.options) >= LARGE else 1),
        forced=forcing_limits(problem, choice.options),
    )


def choice_key_of(
    name: str, folder: CarFolder, *, tables: tuple[str, ...] = (), **more: Any
) -> str:
    """Key of what is computed from the choice; of work it holds what was begun, not each hour."""
    begun = {subject: one.words for subject, one in begun_pieces(folder).items()}
    grounds = grounds_of(folder).told()
    return key_of(
        name,
        folder,
        (*CHOICE_TABLES, *tables),
        brief=folder.brief,
        begun=begun,
        grounds=grounds,
        **more,
    )
