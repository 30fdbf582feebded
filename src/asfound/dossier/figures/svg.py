"""SVG in a few typed pieces: the drawing, its elements, text, numbers to a tenth."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from html import escape

import numpy as np
from numpy.typing import NDArray

Value = str | float | int | None
Points = NDArray[np.float64]
NAMESPACE = "http://www.w3.org/2000/svg"


@dataclass(slots=True)
class Node:
    """An element with attributes and children; text children are escaped on writing."""

    tag: str
    attributes: dict[str, str] = field(default_factory=dict)
    children: list[Node | str] = field(default_factory=list)

    def add(self, *children: Node | str | None) -> Node:
        """Append children; ``None`` is left out."""
        self.children.extend(child for child in children if child is not None)
        return self


def node(tag: str, *children: Node | str | None, **attributes: Value) -> Node:
    """Element; ``_`` in a name becomes ``-``, a closing ``_`` is dropped, ``None`` is left out."""
    named = {
        key.rstrip("_").replace("_", "-"): value if isinstance(value, str) else number(value)
        for key, value in attributes.items()
        if value is not None
    }
    return Node(tag, named).add(*children)


def svg_root(
    words: str,
    *children: Node | str | None,
    width: float,
    height: float,
    class_: str | None = None,
    told: str = "",
    corner: tuple[float, float] = (0.0, 0.0),
    sized: bool = False,
    leads: bool = False,
    **attributes: Value,
) -> Node:
    """Root of a drawing, with what it is called and told by to who cannot see it.

    Parameters
    ----------
    words : str
        What it shows; empty for an ornament, which is hidden from a reader of the screen.
    *children : Node
    width, height : float
        Of the ground, in drawing units.
    class_ : str, optional
    told : str
        The same at length, in sentences.
    corner : (float, float)
        Left and upper edge of the ground.
    sized : bool
        Whether it takes its own size on a page; else it fills the room that it is given.
    leads : bool
        Whether what is in it leads somewhere: then it is a group of links, not one picture.
    **attributes : str or float
        Further attributes of the root.
    """
    return node(
        "svg",
        node("title", words) if words else None,
        node("desc", told) if told else None,
        *children,
        xmlns=NAMESPACE,
        viewBox=" ".join(map(number, (*corner, width, height))),
        width=width if sized else None,
        height=height if sized else None,
        class_=class_,
        role=("group" if leads else "img") if words else None,
        aria_label=words or None,
        aria_hidden=None if words else "true",
        **attributes,
    )


def number(value: float) -> str:
    """Number to a tenth, without a minus before zero: the same drawing, the same bytes.

    Examples
    --------
    >>> number(2.0), number(-0.04), number(1.26)
    ('2', '0', '1.3')
    """
    text = f"{value:.1f}".removesuffix(".0")
    return "0" if text == "-0" else text


def path(lines: Iterable[Points], *, closed: bool) -> str:
    """Path data through points of shape (n, 2); points that round to one are drawn once."""
    end = "Z" if closed else ""
    return "".join(_line(points) + end for points in lines if len(points) > 1)


def _line(points: Points) -> str:
    tenths = np.rint(points * 10).astype(int)
    keep = np.ones(len(tenths), dtype=bool)
    keep[1:] = (np.diff(tenths, axis=0) != 0).any(axis=1)
    pairs = [f"{_tenth(x)} {_tenth(y)}" for x, y in tenths[keep].tolist()]
    return f"M{pairs[0]}" + (f"L{' '.join(pairs[1:])}" if len(pairs) > 1 else "")


def _tenth(value: int) -> str:
    whole, rest = divmod(abs(value), 10)
    sign = "-" if value < 0 else ""
    return f"{sign}{whole}.{rest}" if rest else f"{sign}{whole}"


def render(root: Node) -> str:
    """Node as text."""
    pieces: list[str] = []
    _write(root, pieces)
    return "".join(pieces)


def _write(element: Node, pieces: list[str]) -> None:
    attributes = "".join(f' {k}="{escape(v)}"' for k, v in element.attributes.items())
    if not element.children:
        pieces.append(f"<{element.tag}{attributes}/>")
        return
    pieces.append(f"<{element.tag}{attributes}>")
    for child in element.children:
        if isinstance(child, str):
            pieces.append(escape(child, quote=False))
        else:
            _write(child, pieces)
    pieces.append(f"</{element.tag}>")
