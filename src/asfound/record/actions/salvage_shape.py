"""Outlines and numbers of the stock that can be drawn, cut and opened."""

from __future__ import annotations

import re
from typing import Any

import shapely

from asfound.base import InputError
from asfound.craft.salvage.piece import LONGEST_MM

MOST_POINTS = 5_000
_NAME = re.compile(r"[\w.\-]{1,40}", re.ASCII)


def check_outline(text: str, *, field: str = "outline_wkt") -> None:
    """Raise where an outline is no flat polygon of a size that can lie in a workshop.

    Raises
    ------
    InputError
        With what it is.
    """
    if not text:
        return
    shape: Any = shapely.from_wkt(text, on_invalid="ignore")
    sound = isinstance(shape, shapely.Polygon) and shape.is_valid and not shape.is_empty
    if not sound or shape.has_z:
        raise InputError(field=field, got=text[:60], allowed="a flat polygon in mm")
    points_n = shapely.get_num_coordinates(shape)
    if points_n > MOST_POINTS:
        raise InputError(
            field=field, got=f"{points_n} points", allowed=f"at most {MOST_POINTS} points"
        )
    if max(map(abs, shape.bounds)) > LONGEST_MM or shape.area < 1:
        raise InputError(
            field=field,
            got=text[:60],
            allowed="between 1 mm² and 100 m",
            remedy="Check the unit: lengths are in mm.",
        )


def check_name(text: str, *, field: str) -> None:
    """Raise where a number or a tag could not stand in an address.

    Raises
    ------
    InputError
        If it holds more than letters, digits, points, strokes and lines, or is too long.
    """
    if not _NAME.fullmatch(text):
        raise InputError(
            field=field,
            got=text[:60],
            allowed="up to 40 letters, digits, points, and strokes without spaces",
        )
