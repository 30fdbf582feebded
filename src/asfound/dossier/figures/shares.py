"""The ledger as found: bars of shares, told apart by pattern and letter."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from asfound.dossier.figures.palette import PALETTES, Palette, Theme
from asfound.dossier.figures.room import width_of
from asfound.dossier.figures.svg import Node, node, number, render, svg_root
from asfound.dossier.figures.words import Style, text
from asfound.record.results.ledger import state_words
from asfound.weigh.ledger import Account, Share

_WIDTH, _EDGE, _BAR, _ROW, _SIZE = 380.0, 4.0, 26.0, 52.0, 11.0
_STEP = 6.0


def shares_svg(accounts: Sequence[tuple[str, Account]], *, theme: Theme = "page") -> str:
    """Shares of the states as SVG, a bar an account.

    Parameters
    ----------
    accounts : sequence of (str, Account)
        What is counted, in words, and the shares.
    theme : {"page", "print"}

    Notes
    -----
    Each state has a pattern of its own, and its name or its letter where the bar has room:
    original full, period upright lines, later level lines, reproduction crossed, not known empty,
    missing dotted.
    """
    palette = PALETTES[theme]
    words = "Shares of the car as found"
    root = svg_root(
        words,
        width=_WIDTH,
        height=_ROW * len(accounts),
        class_="shares",
    )
    for row, (name, account) in enumerate(accounts):
        y = row * _ROW
        style = Style(size=_SIZE, colour=palette.ink)
        root.add(text(name, _EDGE, y + 10, style, palette), *_bar(account, y + 20, palette))
    return render(root)


def _bar(account: Account, y: float, palette: Palette) -> Iterator[Node]:
    x, whole = _EDGE, _WIDTH - 2 * _EDGE
    for share in account.shares:
        width = share.share * whole
        if width > 0:
            yield from _piece(share, x, y, width, palette)
            x += width
    yield node("rect", x=_EDGE, y=y, width=whole, height=_BAR, fill="none", stroke=palette.ink)


def _piece(share: Share, x: float, y: float, width: float, palette: Palette) -> Iterator[Node]:
    full = share.state == "O"
    yield node(
        "rect",
        x=x,
        y=y,
        width=width,
        height=_BAR,
        fill=palette.accent if full else palette.paper,
        stroke=palette.ink,
        stroke_width=0.8,
    )
    strokes = _pattern(share.state, x, y, width)
    if strokes:
        dash = "1.6 4" if share.state == "M" else None
        yield node("path", d=strokes, stroke=palette.soft, stroke_width=1.1, stroke_dasharray=dash)
    words = _words(share.state, width)
    if words:
        middle, wide = x + width / 2, width_of(words, size=_SIZE) + 2
        if full:
            style = Style(size=_SIZE, colour=palette.paper, weight="600")
            yield text(words, middle, y + _BAR / 2, style, palette, anchor="middle")
            return
        plate = {"x": middle - wide / 2, "width": wide, "y": y + 5, "height": _BAR - 10}
        yield node("rect", **plate, fill=palette.paper)
        style = Style(size=_SIZE, colour=palette.ink, weight="600")
        yield text(words, middle, y + _BAR / 2, style, palette, anchor="middle")


def _words(state: str, width: float) -> str:
    """The state in words where they have room, in short, or by its letter."""
    name = state_words(state)
    short = name.partition(" and ")[0]
    room = width - 4
    fits = (words for words in (name, short, state) if width_of(words, size=_SIZE) <= room)
    return next(fits, "")


def _pattern(state: str, x: float, y: float, width: float) -> str:
    across, down = int(width / _STEP), int(_BAR / _STEP)
    upright = "".join(
        f"M{number(x + _STEP * (k + 0.5))} {number(y)}v{number(_BAR)}" for k in range(across)
    )
    level = "".join(
        f"M{number(x)} {number(y + _STEP * (k + 0.6))}h{number(width)}" for k in range(down)
    )
    return {"P": upright, "L": level, "R": upright + level, "M": level}.get(state, "")
