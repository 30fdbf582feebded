"""Papers that labels come on: grids on A4 and rolls, told by their sizes in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass

from asfound.base import InputError

A4_MM = (210.0, 297.0)
LEAST_MM = 15.0
"""Below this a code of a tag's address cannot be read by a phone (own trial, no source)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """What stands on one label.

    Parameters
    ----------
    tag : str
        What the code opens and a person can type.
    address : str
        What the code holds: the address of the tag's page.
    name, detail : str
        What it is, and a line below: the part's number, the car.
    """

    tag: str
    address: str
    name: str
    detail: str = ""


def _check_size(width_mm: float, height_mm: float) -> None:
    for name, got in (("width_mm", width_mm), ("height_mm", height_mm)):
        if not (math.isfinite(got) and got >= LEAST_MM):
            raise InputError(field=name, got=got, allowed=f"{LEAST_MM:g} or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class Grid:
    """Labels in rows and columns on A4.

    Parameters
    ----------
    width_mm, height_mm : float
        Size of one label.
    columns, rows : int
    left_mm, top_mm : float
        Where the first label begins on the sheet.
    gap_x_mm, gap_y_mm : float
        Between two labels.
    """

    width_mm: float
    height_mm: float
    columns: int
    rows: int
    left_mm: float
    top_mm: float
    gap_x_mm: float = 0.0
    gap_y_mm: float = 0.0

    def __post_init__(self) -> None:
        _check_size(self.width_mm, self.height_mm)
        right = self.left_mm + self.columns * (self.width_mm + self.gap_x_mm) - self.gap_x_mm
        below = self.top_mm + self.rows * (self.height_mm + self.gap_y_mm) - self.gap_y_mm
        if right > A4_MM[0] + 0.5 or below > A4_MM[1] + 0.5:
            raise InputError(
                field="labels", got=f"{right:g} × {below:g} mm", allowed="within A4, 210 × 297 mm"
            )

    @property
    def page_mm(self) -> tuple[float, float]:
        """Size of the paper."""
        return A4_MM

    @property
    def a_page(self) -> int:
        """Labels on one page."""
        return self.columns * self.rows

    def place_mm(self, number: int) -> tuple[float, float]:
        """Upper left corner of a label on its page, numbered from 0 along the rows."""
        row, column = divmod(number, self.columns)
        return (
            self.left_mm + column * (self.width_mm + self.gap_x_mm),
            self.top_mm + row * (self.height_mm + self.gap_y_mm),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Roll:
    """One label after the other, each a page of its own size."""

    width_mm: float
    height_mm: float

    def __post_init__(self) -> None:
        _check_size(self.width_mm, self.height_mm)

    @property
    def page_mm(self) -> tuple[float, float]:
        """Size of the paper."""
        return (self.width_mm, self.height_mm)

    @property
    def a_page(self) -> int:
        """Labels on one page."""
        return 1

    def place_mm(self, number: int) -> tuple[float, float]:
        """Upper left corner of the one label."""
        del number
        return (0.0, 0.0)


Paper = Grid | Roll

LABELS: dict[str, Paper] = {
    "A4, 3 × 8, 70 × 36 mm": Grid(
        width_mm=70, height_mm=36, columns=3, rows=8, left_mm=0, top_mm=4.5
    ),
    "A4, 3 × 7, 63.5 × 38.1 mm": Grid(
        width_mm=63.5, height_mm=38.1, columns=3, rows=7, left_mm=7.2, top_mm=15.1, gap_x_mm=2.5
    ),
    "A4, 2 × 7, 99.1 × 38.1 mm": Grid(
        width_mm=99.1, height_mm=38.1, columns=2, rows=7, left_mm=4.65, top_mm=15.15, gap_x_mm=2.5
    ),
    "A4, 4 × 10, 52.5 × 29.7 mm": Grid(
        width_mm=52.5, height_mm=29.7, columns=4, rows=10, left_mm=0, top_mm=0
    ),
    "roll, 62 × 29 mm": Roll(width_mm=62, height_mm=29),
    "roll, 40 × 20 mm": Roll(width_mm=40, height_mm=20),
    "roll, 25 × 25 mm": Roll(width_mm=25, height_mm=25),
}
"""Sizes that are sold everywhere; any other can be told in mm."""
