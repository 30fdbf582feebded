"""With which assembly each piece is drawn: its section, or what it belongs to."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from asfound.record.folder import Row

REST = "the rest"


def groups_of(parts: Mapping[str, Row], names: Sequence[str]) -> dict[str, str]:
    """Assembly by piece.

    Parameters
    ----------
    parts : mapping of str to Row
        Rows of ``parts.csv`` by number.
    names : sequence of str

    Notes
    -----
    A section that the part or what it belongs to gives comes first, unless most of the car is in
    it. Else it is the outermost assembly that holds no more than half of the pieces.
    """
    chains = {name: list(_upwards(parts, name)) for name in names}
    inside = Counter(above for chain in chains.values() for above in chain)
    sections = {name: _section(parts, chain) for name, chain in chains.items()}
    wide = {section for section, n in Counter(sections.values()).items() if 2 * n > len(names)}
    return {
        name: sections[name]
        if sections[name] and sections[name] not in wide
        else _outermost(parts, chains[name], inside, len(names)) or sections[name] or REST
        for name in names
    }


def _upwards(parts: Mapping[str, Row], name: str) -> Iterator[str]:
    """The piece, what it belongs to, and so on."""
    seen = set[str]()
    while name and name not in seen:
        yield name
        seen.add(name)
        name = parts[name].text("parent") if name in parts else ""


def _section(parts: Mapping[str, Row], chain: Sequence[str]) -> str:
    given = (parts[name].text("section") for name in chain if name in parts)
    return next(filter(None, given), "")


def _outermost(
    parts: Mapping[str, Row], chain: Sequence[str], inside: Counter[str], pieces_n: int
) -> str:
    """Name of the outermost assembly above that is not most of the car."""
    several = [n for n in chain if 1 < inside[n] <= pieces_n / 2]
    return parts[several[-1]].text("name") or several[-1] if several else ""
