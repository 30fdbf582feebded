"""The choice over a car in the shape of the contract."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from asfound.choose import Choice, Front, FrontPoint, Turn, Turning, Why

_DIGITS = 9


def choice_json(
    *,
    choice: Choice | None,
    front: Front | None,
    whys: tuple[Why, ...],
    clash: tuple[str, ...],
    turnings: Mapping[str, Turning] | None = None,
) -> dict[str, Any]:
    """Choice as ``asfound choose --json`` prints it.

    Parameters
    ----------
    choice : Choice or None
        ``None`` when nothing satisfies the brief; ``clash`` then names what clashes.
    front : Front or None
        Drawn within the brief or beyond it; what is beyond it is left out here, for a front
        of the contract ends at the choice.
    whys : tuple of Why
    clash : tuple of str
    turnings : mapping of str to Turning, or None
        By subject, the numbers at which its decision turns; None leaves them out.
    """
    return {
        "chosen": None if choice is None else _chosen(choice),
        "front": [_point(point) for point in _within_brief(choice, front)],
        "exact": (choice is None or choice.proved) and (front is None or front.exact),
        "why": [_why(why) | _turns(why.subject, turnings) for why in whys],
        "impossible": list(clash) if choice is None else None,
    }


def _why(why: Why) -> dict[str, Any]:
    return {
        "subject": why.subject,
        "option": why.option,
        "because": why.because,
        "runner_up": why.runner_up or None,
        "flips_when": why.flips_when,
        "proved": why.proved,
    }


def _turns(subject: str, turnings: Mapping[str, Turning] | None) -> dict[str, Any]:
    """The numbers at which a decision turns; null where time was too short to look for any."""
    if turnings is None:
        return {}
    found = turnings.get(subject)
    if found is None:
        return {"turns": None, "turns_proved": False}
    return {"turns": [_turn(turn) for turn in found.turns], "turns_proved": found.proved}


def _turn(turn: Turn) -> dict[str, Any]:
    return {
        "what": turn.what,
        **({"trade": turn.trade} if turn.trade else {}),
        "way": turn.way,
        "at": _number(turn.at),
        "reached": turn.reached,
        "now": None if turn.now is None else _number(turn.now),
        "option": turn.option,
        "words": turn.words,
    }


def _within_brief(choice: Choice | None, front: Front | None) -> tuple[FrontPoint, ...]:
    if front is None:
        return ()
    points = tuple(point for point in front.points if point.within_brief)
    if choice is None or (points and points[-1].kept >= choice.kept):
        return points
    end = FrontPoint(kept=choice.kept, cost=choice.cost, options=choice.options, within_brief=True)
    return (*points, end)


def _chosen(choice: Choice) -> dict[str, Any]:
    return {
        "options": dict(choice.options),
        "kept": _number(choice.kept),
        "cost": _number(choice.cost),
        "hours": _hours(choice.hours),
        "lowest_grade": _number(choice.lowest_grade),
    }


def _point(point: FrontPoint) -> dict[str, Any]:
    return {
        "kept": _number(point.kept),
        "cost": _number(point.cost),
        "options": dict(point.options),
    }


def _hours(hours: Mapping[str, float]) -> dict[str, float]:
    return {trade: _number(value) for trade, value in hours.items()}


def _number(value: float) -> float:
    return round(float(value), _DIGITS)
