"""Film taken off by a pass of polishing, from spots read before and after."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from asfound.base import Estimate, InputError, NotEnoughEvidenceError


@dataclass(frozen=True, slots=True, kw_only=True)
class PolishSpot:
    """One spot read before and after some passes.

    Parameters
    ----------
    area : str
        The panel or part of a panel that is polished alike.
    spot : str
        The spot's name; the same place before and after.
    before_um, after_um : float
        Means of the spot's gauge readings, film in µm, not negative.
    passes_n : int
        Passes between the two, one or more.
    """

    area: str
    spot: str
    before_um: float
    after_um: float
    passes_n: int

    def __post_init__(self) -> None:
        for name in ("before_um", "after_um"):
            got = getattr(self, name)
            if not (math.isfinite(got) and got >= 0):
                raise InputError(field=name, got=got, allowed="zero or more")
        if self.passes_n < 1:
            raise InputError(field="passes_n", got=self.passes_n, allowed="one or more")


@dataclass(frozen=True, slots=True, kw_only=True)
class Removal:
    """Film taken off by one pass, in µm, and how it scatters from spot to spot.

    ``scatter_um`` is the standard deviation of what one pass takes from one spot; it holds the
    gauge's own noise as well and so errs to the safe side.
    """

    per_pass_um: Estimate
    scatter_um: float
    spots_n: int

    @property
    def told_apart(self) -> bool:
        """Whether any removal is told at all (95 %, two-sided)."""
        return self.per_pass_um.value > self.per_pass_um.expanded(coverage=0.95)


def removal_per_pass(spots: Sequence[PolishSpot], *, spot_u_um: float) -> Removal:
    """The film that one pass takes off, from paired spots.

    Parameters
    ----------
    spots : sequence of PolishSpot, length n ≥ 1
        Spots polished alike, with the same machine, pad and compound.
    spot_u_um : float
        Standard uncertainty of one spot's mean from repeats of the gauge, µm, more than zero;
        the gauge's constant offset cancels in the difference and does not belong here.

    Raises
    ------
    NotEnoughEvidenceError
        Without spots.
    InputError
        If a spot is named twice or ``spot_u_um`` is not positive.

    Notes
    -----
    d = before − after = r·p + e with equal scatter of e: r = Σpd/Σp², u = s/√Σp²,
    s² = Σ(d − rp)²/(n − 1). With equal passes that is the paired mean over p. s below the gauge's
    √2·spot_u_um is luck; then the gauge's u stands, as for a single spot.

    Examples
    --------
    >>> rows = [
    ...     PolishSpot(area="bonnet", spot=str(i), before_um=200, after_um=a, passes_n=2)
    ...     for i, a in enumerate((193, 194, 195))
    ... ]
    >>> round(removal_per_pass(rows, spot_u_um=0.2).per_pass_um.value, 6)
    3.0
    """
    if not spots:
        raise NotEnoughEvidenceError("No spot read before and after; read at least one.")
    names = [(spot.area, spot.spot) for spot in spots]
    if len(set(names)) < len(names):
        raise InputError(field="spots", got=names, allowed="each spot once")
    if not (math.isfinite(spot_u_um) and spot_u_um > 0):
        raise InputError(field="spot_u_um", got=spot_u_um, allowed="more than zero")
    passes = np.array([spot.passes_n for spot in spots], dtype=np.float64)
    taken = np.array([spot.before_um - spot.after_um for spot in spots])
    weight = float(passes @ passes)
    rate = float(passes @ taken) / weight
    from_gauge = math.sqrt(2) * spot_u_um
    dof = len(spots) - 1
    seen = math.sqrt(float(((taken - rate * passes) ** 2).sum()) / dof) if dof else 0.0
    scatter = max(seen, from_gauge)
    return Removal(
        per_pass_um=Estimate(
            value=rate,
            u=scatter / math.sqrt(weight),
            dof=dof if seen > from_gauge else math.inf,
        ),
        scatter_um=scatter / math.sqrt(float(passes.mean())),
        spots_n=len(spots),
    )
