"""A band of film as a strip on one axis for all: where it begins and ends, in per cent."""

from __future__ import annotations

import math
from dataclasses import dataclass

AXIS_UM = (40.0, 2000.0)
"""From a thin works' film to thick filler; logarithmic, so that a factor is one length."""
_TICKS_UM = (50, 100, 200, 500, 1000)


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A bar from ``x`` over ``width``, both in per cent of the axis as SVG writes them."""

    x: str
    width: str
    is_open: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick:
    """A line across every strip, with its number above."""

    x: str
    um: int


def strip(low_um: float, high_um: float) -> Strip:
    """Bar of a band; one without an end runs to the end of the axis."""
    left, right = _share(low_um), _share(high_um)
    return Strip(x=_percent(left), width=_percent(right - left), is_open=math.isinf(high_um))


def place(um: float) -> str:
    """Where a level stands on the axis."""
    return _percent(_share(um))


def ticks() -> tuple[Tick, ...]:
    """Round numbers along the axis."""
    return tuple(Tick(x=place(um), um=um) for um in _TICKS_UM)


def _share(um: float) -> float:
    low, high = AXIS_UM
    inside = min(max(um, low), high)
    return math.log(inside / low) / math.log(high / low)


def _percent(share: float) -> str:
    return f"{share * 100:.1f}%"
