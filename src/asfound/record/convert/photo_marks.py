"""Marks over a photograph: what the record's text says, as drawn by people.

Places are shares of the picture's width and height, upright, from its upper left corner: they
hold at any size. The photograph itself is never altered.
"""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from typing import Any

from asfound.base import InputError

MOST_MARKS = 60
MOST_POINTS = 300
MOST_WORDS = 160
POINTS = {"arrow": (2, 2), "ring": (2, 2), "line": (2, MOST_POINTS), "words": (1, 1)}
"""Fewest and most points by kind: an arrow's tail and tip, two corners of the box around a ring."""

Point = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """One mark: its kind, its points as shares of width and height, and what it says."""

    kind: str
    points: tuple[Point, ...]
    words: str = ""

    def __post_init__(self) -> None:
        """Refuse a mark that could not be drawn."""
        if self.kind not in POINTS:
            raise _fault("kind", self.kind, ", ".join(POINTS))
        least, most = POINTS[self.kind]
        if not least <= len(self.points) <= most:
            raise _fault("points", len(self.points), f"{least} to {most} for {self.kind}")
        for value in (share for point in self.points for share in point):
            if not (math.isfinite(value) and 0 <= value <= 1):
                raise _fault("points", value, "0 to 1, shares of width and height")
        if len(self.words) > MOST_WORDS:
            raise _fault("words", len(self.words), f"at most {MOST_WORDS} letters")
        if self.kind == "words" and not self.words.strip():
            raise _fault("words", "", "given")


def marks_of(text: str) -> tuple[Mark, ...]:
    """Marks that the text tells; none for an empty text.

    Raises
    ------
    InputError
        If it cannot be read, or a mark could not be drawn.
    """
    if not text.strip():
        return ()
    try:
        told = json.loads(text)
        return _checked(tuple(_mark(one) for one in told))
    except InputError:
        raise
    except (ValueError, TypeError, KeyError, RecursionError) as error:
        raise _fault("marks", text[:40], "a list of marks") from error


def marks_text(marks: tuple[Mark, ...]) -> str:
    """Text that the record keeps; empty for no marks.

    Examples
    --------
    >>> marks_text((Mark(kind="words", points=((0.5, 0.25),), words="bare"),))
    '[{"kind": "words", "points": [[0.5, 0.25]], "words": "bare"}]'
    """
    if not marks:
        return ""
    told = [
        {
            "kind": mark.kind,
            "points": [[round(x, 4), round(y, 4)] for x, y in mark.points],
            "words": mark.words.strip(),
        }
        for mark in _checked(marks)
    ]
    return json.dumps(told, ensure_ascii=False)


def _mark(told: Any) -> Mark:
    points = tuple((float(x), float(y)) for x, y in told["points"])
    return Mark(kind=str(told["kind"]), points=points, words=str(told.get("words") or ""))


def _checked(marks: tuple[Mark, ...]) -> tuple[Mark, ...]:
    if len(marks) > MOST_MARKS:
        raise _fault("marks", len(marks), f"at most {MOST_MARKS} on one photograph")
    return marks


def _fault(field: str, got: object, allowed: str) -> InputError:
    return InputError(field=field, got=got, allowed=allowed, remedy="Draw the mark once more.")
