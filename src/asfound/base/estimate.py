"""A measured or computed quantity with its doubt."""

from __future__ import annotations

import math
from dataclasses import dataclass

from asfound.base.errors import InputError


@dataclass(frozen=True, slots=True, kw_only=True)
class Estimate:
    """A value with its standard uncertainty and degrees of freedom.

    Parameters
    ----------
    value : float
        The best estimate, in the unit that the name of the field states.
    u : float
        Standard uncertainty in the same unit, not negative.
    dof : float
        Effective degrees of freedom of ``u``; infinite when ``u`` is known.

    Raises
    ------
    InputError
        If a number is not finite, ``u`` is negative or ``dof`` is not positive.

    Examples
    --------
    >>> round(Estimate(value=10.0, u=1.0).expanded(coverage=0.95), 2)
    1.96
    """

    value: float
    u: float
    dof: float = math.inf

    def __post_init__(self) -> None:
        if not math.isfinite(self.value):
            raise InputError(field="value", got=self.value, allowed="a finite number")
        if not (math.isfinite(self.u) and self.u >= 0):
            raise InputError(field="u", got=self.u, allowed="a finite number, zero or more")
        if not self.dof > 0:
            raise InputError(field="dof", got=self.dof, allowed="more than zero")

    def expanded(self, *, coverage: float) -> float:
        """Half-width of the interval that holds the quantity with probability ``coverage``.

        Raises
        ------
        InputError
            If the probability is not between 0 and 1.

        Notes
        -----
        U = t((1 + p)/2, dof) · u, Student's t; JCGM 100:2008 (GUM), G.3.2.
        """
        if not 0 < coverage < 1:
            raise InputError(field="coverage", got=coverage, allowed="between 0 and 1")
        from scipy import special  # noqa: PLC0415 - slow to load, met by every command

        if math.isinf(self.dof):
            return float(special.ndtri((1 + coverage) / 2)) * self.u
        return float(special.stdtrit(self.dof, (1 + coverage) / 2)) * self.u
