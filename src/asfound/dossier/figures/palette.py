"""Inks, papers and the scale of film colours."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

Theme = Literal["page", "print"]

_CIVIDIS = (
    "00224e",
    "002e6a",
    "1a386f",
    "32436d",
    "434e6c",
    "535a6d",
    "61656f",
    "6f7073",
    "7d7c78",
    "8b8778",
    "9a9376",
    "aaa073",
    "bbad6d",
    "ccba64",
    "ddc858",
    "efd748",
    "fee838",
)
"""Every sixteenth of the table published by Nuñez, Anderton and Renslow, "Optimizing colormaps
with consideration for color vision deficiency to enable accurate interpretation of scientific
data", PLoS ONE 13(7), 2018 (CC0)."""

_PAPER = "fdfbf5"
_PAPER_SHARE = 0.34
"""So much paper shows through a tint, as through a wash of watercolour; lightness still
falls evenly along the scale, for the mixture is linear."""

TINT_INK = "#1f1c17"
TINT_PAPER = "#fdfbf5"
"""Ink and paper of marks that stand on tinted ground, the same in every theme."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Palette:
    """Colours of what stands on the paper; on a page they follow the page's own tokens."""

    paper: str
    ink: str
    soft: str
    rule: str
    accent: str
    font: str | None


PALETTES: dict[Theme, Palette] = {
    "page": Palette(
        paper="var(--sheet, #fdfbf5)",
        ink="var(--ink, #1f1c17)",
        soft="var(--ink-soft, #5a5347)",
        rule="var(--rule, #d8cfbc)",
        accent="var(--accent, #17655a)",
        font=None,
    ),
    "print": Palette(
        paper="#ffffff",
        ink="#1f1c17",
        soft="#5a5347",
        rule="#cfc6b3",
        accent="#17655a",
        font="Libertinus Serif",
    ),
}


def tint(share: float) -> str:
    """Colour of a film at ``share`` (0–1) of the scale: thin is straw, thick is deep blue."""
    stops = np.array([_channels(stop) for stop in _CIVIDIS])
    at = (1 - min(max(share, 0.0), 1.0)) * (len(stops) - 1)
    pure = [np.interp(at, np.arange(len(stops)), stops[:, channel]) for channel in range(3)]
    mixed = (1 - _PAPER_SHARE) * np.array(pure) + _PAPER_SHARE * np.array(_channels(_PAPER))
    return "#" + "".join(f"{round(float(channel)):02x}" for channel in mixed)


def ink_on(colour: str) -> str:
    """Ink or paper, whichever stands out more from a tint.

    Notes
    -----
    Relative luminance and contrast ratio as WCAG 2.2 defines them.
    """
    ground = luminance(colour)
    inks = (TINT_INK, TINT_PAPER)
    return max(inks, key=lambda ink: _contrast(luminance(ink), ground))


def luminance(colour: str) -> float:
    """Relative luminance (0–1) of ``#rrggbb``, after WCAG 2.2."""
    parts = np.array(_channels(colour.removeprefix("#"))) / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    return float(linear @ np.array([0.2126, 0.7152, 0.0722]))


def _contrast(one: float, other: float) -> float:
    high, low = max(one, other), min(one, other)
    return (high + 0.05) / (low + 0.05)


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[0:2], 16), int(colour[2:4], 16), int(colour[4:6], 16)
