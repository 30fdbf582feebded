"""Where a panel lies on the unfolded sheet."""

from __future__ import annotations

import math
from dataclasses import dataclass

from asfound.base import InputError

MIRRORED = "mirrored"
_ALLOWED = '"dx dy angle_deg" or "dx dy angle_deg mirrored", numbers in mm and degrees'


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """Place of a panel's own origin on the sheet, and how the panel is turned there.

    Parameters
    ----------
    dx_mm, dy_mm : float
        Where the panel's own origin (0, 0) lies on the sheet [mm]; y runs downwards.
    angle_deg : float
        Turn about that origin, clockwise as seen on the sheet [degree].
    mirrored : bool
        The panel's own x is reversed before the turn: the sheet shows the panel from the
        other side than it was measured from.
    """

    dx_mm: float = 0.0
    dy_mm: float = 0.0
    angle_deg: float = 0.0
    mirrored: bool = False

    @property
    def matrix(self) -> tuple[float, float, float, float, float, float]:
        """Coefficients (a, b, c, d, e, f) of the map from the panel's mm to the sheet's mm.

        Notes
        -----
        x' = a·x + c·y + e and y' = b·x + d·y + f, the order in which SVG writes a matrix.

        Examples
        --------
        >>> Placement(dx_mm=100, dy_mm=50).matrix
        (1.0, 0.0, -0.0, 1.0, 100, 50)
        """
        turn = math.radians(self.angle_deg)
        cos, sin = math.cos(turn), math.sin(turn)
        flip = -1.0 if self.mirrored else 1.0
        return (flip * cos, flip * sin, -sin, cos, self.dx_mm, self.dy_mm)


def parse_placement(text: str) -> Placement | None:
    """Placement as a cell of ``panels.placement`` gives it; ``None`` for an empty cell.

    Parameters
    ----------
    text : str
        ``dx dy angle_deg`` or ``dx dy angle_deg mirrored``.

    Raises
    ------
    InputError
        If the text is neither.

    Examples
    --------
    >>> parse_placement("1200 0 90 mirrored").mirrored
    True
    """
    words = text.split()
    if not words:
        return None
    mirrored = words[-1].lower() == MIRRORED
    numbers = words[:-1] if mirrored else words
    try:
        dx_mm, dy_mm, angle_deg = (float(word) for word in numbers)
    except ValueError:
        raise InputError(field="placement", got=text, allowed=_ALLOWED) from None
    if not all(math.isfinite(value) for value in (dx_mm, dy_mm, angle_deg)):
        raise InputError(field="placement", got=text, allowed=_ALLOWED)
    return Placement(dx_mm=dx_mm, dy_mm=dy_mm, angle_deg=angle_deg, mirrored=mirrored)
