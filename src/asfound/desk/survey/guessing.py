"""Which column of a file is which, guessed from its head."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping


def guess(head: tuple[str, ...], hints: Mapping[str, tuple[str, ...]]) -> dict[str, int]:
    """Likely place of each declared column; no place is given twice."""
    found: dict[str, int] = {}
    plain = [_plain(cell) for cell in head]
    for fits in (_is_name, _is_hint, _has_hint):
        for column, words in hints.items():
            if column not in found:
                places = (i for i in range(len(plain)) if i not in found.values())
                place = next((i for i in places if fits(plain[i], column, words)), None)
                if place is not None:
                    found[column] = place
    return found


def _plain(cell: str) -> str:
    """Cell in small letters without accents, units in brackets or marks."""
    bare = unicodedata.normalize("NFKD", re.sub(r"[\[(].*?[\])]", " ", cell.lower()))
    return re.sub(r"[^a-z0-9]+", " ", bare.encode("ascii", "ignore").decode()).strip()


def _is_name(cell: str, column: str, words: tuple[str, ...]) -> bool:
    return cell == column.lower().replace("_", " ")


def _is_hint(cell: str, column: str, words: tuple[str, ...]) -> bool:
    return cell in words


def _has_hint(cell: str, column: str, words: tuple[str, ...]) -> bool:
    """A single letter inside a longer head is no hint, unless it names a place."""
    alone = {word for word in words if len(word) > 1 or word in "xy"}
    return bool(set(cell.split()) & alone)
