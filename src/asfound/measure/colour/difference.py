"""The difference of two colours: CIEDE2000 and the CIELAB differences."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from asfound.base import Estimate
from asfound.measure.budget import Component, combine
from asfound.measure.colour.readings import ColourMean, one_viewing

Lab = tuple[float, float, float]
STEP = 1e-3  # for sensitivities; small beside any instrument's resolution, 0.01


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourDifference:
    """Second colour less first; ΔL, ΔC and ΔH keep their sign, ΔE has none.

    ``delta_e00`` is CIEDE2000, ``delta_e76`` the plain CIELAB distance; ``delta_l``,
    ``delta_c`` and ``delta_h`` are CIELAB lightness, chroma and hue differences, with
    ΔE76² = ΔL² + ΔC² + ΔH².
    """

    delta_e00: Estimate
    delta_e76: Estimate
    delta_l: Estimate
    delta_c: Estimate
    delta_h: Estimate


def delta_e00(first: Lab, second: Lab) -> float:
    """CIEDE2000 between two CIELAB colours of one light and observer.

    Notes
    -----
    The formula knows no light. The library's D65 space is named only so that it takes the numbers
    as they are, without adapting them.

    References
    ----------
    Sharma, Wu, Dalal, "The CIEDE2000 color-difference formula", Color Research and Application
    30 (2005) 21-30.

    Examples
    --------
    >>> round(delta_e00((50, 2.6772, -79.7751), (50, 0, -82.7485)), 4)
    2.0425
    """
    from coloraide import Color  # noqa: PLC0415 - takes long to load

    one, two = (Color("lab-d65", list(lab)) for lab in (first, second))
    return float(one.delta_e(two, method="2000"))


def delta_e76(first: Lab, second: Lab) -> float:
    """Plain distance in CIELAB."""
    return math.dist(first, second)


def delta_c(first: Lab, second: Lab) -> float:
    """Chroma of the second less that of the first."""
    return math.hypot(second[1], second[2]) - math.hypot(first[1], first[2])


def delta_h(first: Lab, second: Lab) -> float:
    """Hue difference in CIELAB units, positive where the hue angle grows.

    Notes
    -----
    ΔH = 2 √(C₁C₂) sin(Δh/2), the signed form; CIE 15 (from memory).
    """
    chroma = math.hypot(first[1], first[2]) * math.hypot(second[1], second[2])
    turn = math.atan2(second[2], second[1]) - math.atan2(first[2], first[1])
    turn = math.remainder(turn, math.tau)
    return 2 * math.sqrt(chroma) * math.sin(turn / 2)


def _delta_l(first: Lab, second: Lab) -> float:
    return second[0] - first[0]


def difference(first: ColourMean, second: ColourMean) -> ColourDifference:
    """How far the second colour is from the first, with uncertainty.

    Parameters
    ----------
    first, second : ColourMean
        Under the same light and observer.

    Raises
    ------
    InputError
        If the lights or observers differ.

    Notes
    -----
    Uncertainty by the law of propagation with central-difference sensitivities (JCGM 100:2008,
    5.1). ΔE is a distance and cannot fall below zero: where its u is as large as itself, it says
    "no difference told", not how small the difference is.
    """
    one_viewing((first.viewing, second.viewing))
    return ColourDifference(
        delta_e00=_estimate(delta_e00, first, second),
        delta_e76=_estimate(delta_e76, first, second),
        delta_l=_estimate(_delta_l, first, second),
        delta_c=_estimate(delta_c, first, second),
        delta_h=_estimate(delta_h, first, second),
    )


def _estimate(
    measure: Callable[[Lab, Lab], float], first: ColourMean, second: ColourMean
) -> Estimate:
    six = (*first.lab, *second.lab)
    doubts = [part for mean in (first, second) for part in (mean.l_star, mean.a_star, mean.b_star)]
    components = [
        Component(u=part.u, sensitivity=_sensitivity(measure, six, i), dof=part.dof)
        for i, part in enumerate(doubts)
    ]
    if first.lab == second.lab and measure in {delta_e00, delta_e76}:
        # A distance has no slope at zero; the longest of the doubts is its honest scale.
        u = math.sqrt(sum(part.u**2 for part in doubts) / 3)
        return Estimate(value=0.0, u=u)
    u, dof = combine(components)
    return Estimate(value=measure(first.lab, second.lab), u=u, dof=dof)


def _sensitivity(measure: Callable[[Lab, Lab], float], six: tuple[float, ...], place: int) -> float:
    def at(shift: float) -> float:
        moved = [*six]
        moved[place] += shift
        return measure((moved[0], moved[1], moved[2]), (moved[3], moved[4], moved[5]))

    return (at(STEP) - at(-STEP)) / (2 * STEP)
