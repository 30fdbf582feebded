"""A CIELAB colour as a screen can show it."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.dossier.figures.svg import node, render, svg_root

AS_SHOWN = "as the screen can show it"
_WIDE, _TALL = 56.0, 32.0

Lab = tuple[float, float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """Colour as ``#rrggbb``, and whether the screen's range holds the colour that was read."""

    hex: str
    is_whole: bool


def shown(lab: Lab) -> Shown:
    """The nearest colour of the sRGB range.

    Parameters
    ----------
    lab : (float, float, float)
        L*, a*, b* under any light: each is relative to the white of its own light, so a paper that
        is white there is white here. A light that is not like daylight is only told roughly so.

    Notes
    -----
    CIELAB of D65 to sRGB (IEC 61966-2-1) by the library; a colour outside is brought in at its
    lightness and hue, as the library does by default.

    Examples
    --------
    >>> shown((100.0, 0.0, 0.0)).hex
    '#ffffff'
    """
    from coloraide import Color  # noqa: PLC0415 - takes long to load

    read = Color("lab-d65", list(lab))
    is_whole = bool(read.in_gamut("srgb", tolerance=0.002))
    return Shown(hex=str(read.convert("srgb").fit().to_string(hex=True)), is_whole=is_whole)


def swatch_svg(lab: Lab, *, words: str) -> str:
    """Patch of the colour; with a slanting line through it where the screen falls short of it."""
    seen = shown(lab)
    told = f"{words}, {AS_SHOWN}" if seen.is_whole else f"{words}, beyond what the screen can show"
    root = svg_root(
        told,
        node("rect", width=_WIDE, height=_TALL, fill=seen.hex),
        width=_WIDE,
        height=_TALL,
        class_="swatch",
        preserveAspectRatio="none",
    )
    if not seen.is_whole:
        line = node("path", d=f"M0 {_TALL:g}L{_WIDE:g} 0", stroke="#ffffff", stroke_width="3")
        over = node("path", d=f"M0 {_TALL:g}L{_WIDE:g} 0", stroke="#1f1c17", stroke_width="1")
        root.add(line, over)
    return render(root)
