"""Which labels have no room where a page sets them larger, as it does on a phone."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

import shapely
from shapely import Polygon, affinity

from asfound.dossier.figures.room import box_around, width_of
from asfound.dossier.figures.svg import Node

PHONE_SIZE = 17.0
"""Size of words on a panel's figure in a hand's width; ``survey.css`` sets it."""
ROOMY = "roomy"
"""Class of a label that is left out there."""
_INK = 0.78
"""Height of the ink above the baseline [em]."""
_GAP = 3.0
"""Clear space between two labels, which also makes up for bold figures [drawing units]."""
_TURN = re.compile(r"rotate\((\S+) (\S+) (\S+)\)")


def mark_crowded(labels: Iterable[Node], *, size: float = PHONE_SIZE) -> None:
    """Give the class ``roomy`` to labels that would run into one before them at ``size``.

    Parameters
    ----------
    labels : iterable of Node
        Labels, or groups of them, the ones that must stay first; each is set in the middle.
    size : float
        Size at which they must not collide [drawing units].
    """
    taken: list[Polygon] = []
    for word in _texts(labels):
        box = _box(word, size)
        if taken and bool(shapely.intersects(taken, box).any()):
            named = word.attributes.get("class")
            word.attributes["class"] = f"{named} {ROOMY}" if named else ROOMY
        else:
            taken.append(box)


def _texts(nodes: Iterable[Node | str]) -> Iterator[Node]:
    for one in nodes:
        if isinstance(one, str):
            continue
        if one.tag == "text":
            yield one
        else:
            yield from _texts(one.children)


def _box(word: Node, size: float) -> Polygon:
    """Ink of a label whose size changes while its baseline stays."""
    x, baseline = float(word.attributes["x"]), float(word.attributes["y"])
    words = "".join(child for child in word.children if isinstance(child, str))
    ink = box_around(
        x, baseline - _INK * size / 2, width=width_of(words, size=size) + _GAP, height=_INK * size
    )
    turn = _TURN.match(word.attributes.get("transform", ""))
    if turn is None:
        return ink
    angle, about_x, about_y = map(float, turn.groups())
    return affinity.rotate(ink, angle, origin=(about_x, about_y))
