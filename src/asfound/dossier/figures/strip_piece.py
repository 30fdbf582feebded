"""How a piece is named on the drawings of what comes off before what."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from asfound.dossier.figures.palette import Palette
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.strip_layers import Tie, needed
from asfound.dossier.figures.svg import Node, node
from asfound.dossier.figures.words import Style, text
from asfound.record.convert.strip import StripQuestion

Address = Callable[[str], str]
_SHORT = 6
"""Letters of a last word that is kept: it often tells left from right, front from rear."""


def ties_of(question: StripQuestion) -> Iterator[Tie]:
    """A tie for each joint."""
    for joint in question.assembly.joints:
        yield Tie(first=joint.after, after=joint.piece, optional=bool(joint.way))


def ties_needed(question: StripQuestion) -> list[Tie]:
    """Ties of all that is left on the car, without those that follow from others."""
    return needed(ties_of(question), question.left)


def words_for(question: StripQuestion, name: str, *, size: float, most: float) -> str:
    """Name of the piece, shortened to a width, with its marks."""
    removal = question.removals[name]
    marks = f"({removal.people})" * (removal.people > 1) + " !" * bool(removal.cautions)
    room = most - (width_of(f" {marks}", size=size) if marks else 0.0)
    words = shortened(removal.name, size=size, most=room)
    return f"{words} {marks.strip()}" if marks else words


def shortened(words: str, *, size: float, most: float) -> str:
    """Words, cut with an ellipsis where they are wider than that; a short last word stays.

    Examples
    --------
    >>> shortened("Headlamp reflector left", size=13, most=140)
    'Headlamp reflect… left'
    """
    if width_of(words, size=size) <= most:
        return words
    head, _, last = words.rpartition(" ")
    tail = f"… {last}" if head and len(last) <= _SHORT else "…"
    head = head if len(tail) > 1 else words
    while head and width_of(head + tail, size=size) > most:
        head = head[:-1].rstrip()
    return head + tail


def name_node(
    question: StripQuestion,
    name: str,
    at: tuple[float, float],
    *,
    words: str,
    style: Style,
    palette: Palette,
    address: Address | None,
    chosen: bool = False,
) -> Node:
    """The piece's name in its place, with its full name, and its address behind it.

    A page brings a chosen one into sight.
    """
    full = question.removals[name].name
    shown = text(words, *at, style, palette)
    if name in question.off:
        shown.attributes["text-decoration"] = "line-through"
    shown.add(node("title", full + ", off" * (name in question.off)))
    if address is None:
        return shown
    mark = "yes" if chosen else None
    link = {"href": address(name), "data_piece": full.casefold()}
    return node("a", shown, **link, data_chosen=mark)
