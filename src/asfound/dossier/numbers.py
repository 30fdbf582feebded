"""Numbers as the dossier prints them."""

from __future__ import annotations

import math

THIN = "\u202f"
MISSING = "–"
MINUS = "−"


def plain(value: float, digits: int = 0) -> str:
    """Number with a thin space at the thousands; a dash where there is none.

    Examples
    --------
    >>> plain(float("nan"))
    '–'
    >>> plain(-2.5, 1)
    '−2.5'
    """
    if math.isnan(value):
        return MISSING
    return f"{value:,.{digits}f}".replace(",", THIN).replace("-", MINUS)


def trimmed(value: float) -> str:
    """Number with as many digits as it needs, three after the point at most."""
    text = f"{value:,.3f}".rstrip("0").rstrip(".")
    return text.replace(",", THIN).replace("-", MINUS)


def share(value: float) -> str:
    """Share in percent, one digit."""
    return f"{value * 100:.1f}{THIN}%"


def with_doubt(value: float, expanded: float, digits: int) -> str:
    """Value and half-width of its interval."""
    return f"{plain(value, digits)} ± {plain(expanded, digits)}"
