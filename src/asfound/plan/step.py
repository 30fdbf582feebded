"""One task of a plan whose order is settled, with all that it waits for."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One task with all that it waits for.

    Parameters
    ----------
    task : str
    row : int
        Its row in arrays of hours.
    waits : tuple of (int, int)
        Rows of the tasks before it, each with the minutes by the clock after its end: links, and
        the task before it of each of its people and places.
    not_before_min : int
    people : tuple of str
    works : bool
        Whether it takes anybody's time; a mark in time only needs the shop to be open.
    """

    task: str
    row: int
    waits: tuple[tuple[int, int], ...]
    not_before_min: int
    people: tuple[str, ...]
    works: bool
