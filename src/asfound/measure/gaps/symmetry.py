"""Left against right: whether one side mirrors the other."""

from __future__ import annotations

import math
from dataclasses import dataclass

from scipy import special

from asfound.base import Estimate
from asfound.measure.budget import Component, combine
from asfound.measure.gaps.edge import EdgeFit, Run


@dataclass(frozen=True, slots=True, kw_only=True)
class Shift:
    """Left less right of one quantity, the chance of as large a difference without cause, words."""

    difference_mm: Estimate
    p: float
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class MirrorPair:
    """What differs between an edge and its twin; flush only where both sides have it."""

    left: str
    right: str
    gap_middle: Shift
    gap_run_out: Shift
    flush_middle: Shift | None
    flush_run_out: Shift | None


def _shift(left: Estimate, right: Estimate, *, quantity: str) -> Shift:
    u, dof = combine([Component(u=side.u, dof=side.dof) for side in (left, right)])
    apart = Estimate(value=left.value - right.value, u=u, dof=dof)
    t = abs(apart.value) / u
    tail = special.ndtr(-t) if math.isinf(dof) else special.stdtr(dof, -t)
    p = min(1.0, 2 * float(tail))
    return Shift(difference_mm=apart, p=p, words=_words(apart, p=p, quantity=quantity))


def _words(apart: Estimate, *, p: float, quantity: str) -> str:
    limit = apart.expanded(coverage=0.95)
    signed = f"{apart.value:+.2f}".replace("-", "\N{MINUS SIGN}")
    figures = f"left less right {signed} mm, ±{limit:.2f} mm (95 %)"
    if p >= 0.05:
        hidden = abs(apart.value) + limit
        return f"{quantity}: no difference told ({figures}); up to {hidden:.2f} mm could hide here."
    strength = "clearly differs" if p < 0.01 else "probably differs"
    chance = f"p = {p:.2g}" if p >= 0.001 else "p under 0.001"
    return f"{quantity} {strength} ({figures}; {chance})."


def _pair(left: Run, right: Run, *, name: str) -> tuple[Shift, Shift]:
    return (
        _shift(left.middle_mm, right.middle_mm, quantity=f"{name} in the middle"),
        _shift(left.run_out_mm, right.run_out_mm, quantity=f"{name} run-out"),
    )


def mirror(*, left: EdgeFit, right: EdgeFit) -> MirrorPair:
    """How an edge differs from its twin on the other side.

    Parameters
    ----------
    left, right : EdgeFit
        Twins, both read from the same end.

    Notes
    -----
    Difference of independent estimates, Welch-Satterthwaite degrees of freedom, two-sided
    Student test. The p is for one pair alone: of twenty sound pairs one falls below 0.05 by
    chance. Cars were not built symmetric to the millimetre; a difference is a reason to look, not
    a proof of a blow.

    References
    ----------
    JCGM 100:2008 (GUM), equation G.2b.
    """
    gap = _pair(left.gap, right.gap, name="gap")
    flush = _pair(left.flush, right.flush, name="flush") if left.flush and right.flush else None
    return MirrorPair(
        left=left.edge,
        right=right.edge,
        gap_middle=gap[0],
        gap_run_out=gap[1],
        flush_middle=flush[0] if flush else None,
        flush_run_out=flush[1] if flush else None,
    )
