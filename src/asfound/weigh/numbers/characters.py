"""Two texts of one mark held against each other, character by character."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

Verdict = Literal["same", "consistent", "conflict", "not found"]
"""What a comparison may say; it never says "matching", and it always says to what."""

UNREADABLE = "?"
"""Stands in a reading for a character that is there and cannot be read."""
LOOK_ALIKES = ("0OQD", "1IL", "2Z", "5S", "6G", "8B", "UV")
"""Characters of one group are taken for each other in worn stamps and in handwriting (common
practice, no source)."""
_LAYOUT = re.compile(r"[\s*.\-–_]+")
_GROUP_OF = {sign: group for group in LOOK_ALIKES for sign in group}


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """What two texts say of each other, and why."""

    verdict: Verdict
    why: str


def compare(*, read: str, expected: str) -> Compared:
    """Verdict on a mark as read beside what is expected.

    Parameters
    ----------
    read : str
        As read, with "?" for each character that is there and cannot be read; empty where the
        mark was looked for and not found.
    expected : str
        What a source says; empty where none is known.

    Notes
    -----
    Capitals, spaces, hyphens, points and the stars that frame some stamps are layout and do not
    count. A reading is the *same* only if every character is. Characters that are taken for each
    other, characters that cannot be read, and a text that holds the other as a part make it
    *consistent*: nothing contradicts, and nothing more is shown. Anything else is a *conflict*.

    Examples
    --------
    >>> compare(read="M 1607", expected="M-1607").verdict
    'same'
    >>> compare(read="M 16O7", expected="M 1607").verdict
    'consistent'
    >>> compare(read="M4T 2218", expected="M4T 2188").verdict
    'conflict'
    """
    if not bare(read):
        return Compared(verdict="not found", why="looked for, and not there")
    if not bare(expected):
        return Compared(verdict="not found", why="nothing is known to hold it against")
    if set(bare(read)) == {UNREADABLE}:
        return Compared(verdict="not found", why="no character of it can be read")
    if bare(read) == bare(expected):
        return Compared(verdict="same", why="every character agrees")
    return _part(read, expected) or _by_character(bare(read), bare(expected))


def bare(text: str) -> str:
    """Text without what is only layout, in capitals."""
    return _LAYOUT.sub("", text).upper()


def _part(read: str, expected: str) -> Compared | None:
    """One text as whole words within the other."""
    long, short = sorted((_words(read), _words(expected)), key=len, reverse=True)
    places = range(len(long) - len(short) + 1)
    if len(long) == len(short) or not any(long[i : i + len(short)] == short for i in places):
        return None
    holder = "the mark holds more than" if _words(read) == long else "the mark holds a part of"
    return Compared(verdict="consistent", why=f"{holder} what is expected")


def _words(text: str) -> list[str]:
    return [word for word in _LAYOUT.split(text.upper()) if word]


def _by_character(read: str, expected: str) -> Compared:
    if len(read) != len(expected):
        return Compared(
            verdict="conflict",
            why=f"{len(read)} characters are read where {len(expected)} are expected",
        )
    pairs = [(r, e) for r, e in zip(read, expected, strict=True) if r != e]
    clear = [(r, e) for r, e in pairs if UNREADABLE not in (r, e) and not _alike(r, e)]
    if clear:
        return Compared(verdict="conflict", why=f"{_told(clear)}{_turned(read, expected)}")
    doubts = [f"{r} may be {e}" for r, e in pairs if UNREADABLE not in (r, e)]
    lost = sum(UNREADABLE in pair for pair in pairs)
    if lost:
        doubts.append("1 character cannot be read" if lost == 1 else f"{lost} cannot be read")
    return Compared(verdict="consistent", why=", ".join(dict.fromkeys(doubts)))


def _alike(one: str, other: str) -> bool:
    return one in _GROUP_OF and _GROUP_OF[one] == _GROUP_OF.get(other)


def _told(pairs: list[tuple[str, str]]) -> str:
    return ", ".join(f"{r} is read where {e} is expected" for r, e in pairs)


def _turned(read: str, expected: str) -> str:
    """Two neighbours changed about are the usual slip of a pen; said, never excused."""
    off = [i for i, (r, e) in enumerate(zip(read, expected, strict=True)) if r != e]
    turned = len(off) == 2 and off[1] == off[0] + 1
    turned = turned and read[off[0] : off[1] + 1] == expected[off[0] : off[1] + 1][::-1]
    return "; the same two characters changed about" if turned else ""
