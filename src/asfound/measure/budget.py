"""The uncertainty budget: components combined after the GUM."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from asfound.base import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Component:
    """One line of a budget: a standard uncertainty, its sensitivity and degrees of freedom.

    Parameters
    ----------
    u : float
        Standard uncertainty of the input, not negative, in the input's unit.
    sensitivity : float
        Change of the result per unit of the input.
    dof : float
        Degrees of freedom of ``u``; infinite for a component that is known (type B).
    """

    u: float
    sensitivity: float = 1.0
    dof: float = math.inf

    def __post_init__(self) -> None:
        if not (math.isfinite(self.u) and self.u >= 0):
            raise InputError(field="u", got=self.u, allowed="a finite number, zero or more")
        if not self.dof > 0:
            raise InputError(field="dof", got=self.dof, allowed="more than zero")

    @property
    def contribution(self) -> float:
        """Standard uncertainty that the component gives to the result."""
        return abs(self.sensitivity) * self.u


def combine(components: Sequence[Component]) -> tuple[float, float]:
    """Combined standard uncertainty and its effective degrees of freedom.

    Parameters
    ----------
    components : sequence of Component
        Independent contributions.

    Returns
    -------
    tuple of float
        u_c in the result's unit, and ν_eff (infinite when every part is known).

    Notes
    -----
    u_c² = Σ (cᵢ uᵢ)²; Welch–Satterthwaite: ν_eff = u_c⁴ / Σ ((cᵢ uᵢ)⁴ / νᵢ).

    References
    ----------
    JCGM 100:2008 (GUM), equations 10 and G.2b.

    Examples
    --------
    >>> combine([Component(u=3.0), Component(u=4.0)])
    (5.0, inf)
    """
    u = math.sqrt(sum(c.contribution**2 for c in components))
    below = sum(c.contribution**4 / c.dof for c in components)
    return u, (u**4 / below if below > 0 else math.inf)


def from_limits(half_width: float) -> float:
    """Standard uncertainty of a quantity known to lie within ± ``half_width``, evenly.

    Notes
    -----
    a/√3; JCGM 100:2008 (GUM), 4.3.7.
    """
    return half_width / math.sqrt(3)
