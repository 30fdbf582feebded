"""One edge between two panels: its gap and flush in the middle and their run-out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from asfound.base import Estimate, InputError, NotEnoughEvidenceError
from asfound.measure.line import fit_line


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeReading:
    """One place on an edge.

    Parameters
    ----------
    edge : str
        The edge's name, such as "left door, rear".
    along_mm : float
        Distance along the edge from its agreed end; the same end on the twin of the other side.
    gap_mm : float
        Width of the gap, not negative; 0 where the panels touch.
    flush_mm : float or None
        How far the first-named panel stands proud (positive) or sunk (negative); None if not read.
    """

    edge: str
    along_mm: float
    gap_mm: float
    flush_mm: float | None = None

    def __post_init__(self) -> None:
        if not math.isfinite(self.along_mm):
            raise InputError(field="along_mm", got=self.along_mm, allowed="a finite number")
        if not (math.isfinite(self.gap_mm) and self.gap_mm >= 0):
            raise InputError(
                field="gap_mm",
                got=self.gap_mm,
                allowed="zero or more",
                remedy="Panels that overlap have gap 0; write the overlap as a note.",
            )
        if self.flush_mm is not None and not math.isfinite(self.flush_mm):
            raise InputError(field="flush_mm", got=self.flush_mm, allowed="a finite number")


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """How one quantity runs along an edge.

    ``middle_mm`` is the value halfway along the read span, ``run_out_mm`` the change from its
    start to its end (positive: it widens, or the first panel comes out), both from one line.
    ``covariance_mm2`` is that of the two. ``tapers`` is True where the run-out exceeds its 95 %
    uncertainty.
    """

    middle_mm: Estimate
    run_out_mm: Estimate
    readings_n: int
    covariance_mm2: float = 0.0

    @property
    def tapers(self) -> bool:
        """Whether the run-out differs from zero beyond its expanded uncertainty."""
        return abs(self.run_out_mm.value) > self.run_out_mm.expanded(coverage=0.95)

    def at(self, share: float) -> Estimate:
        """The line's value at ``share`` of the read span: 0 at its start, 1 at its end.

        Notes
        -----
        u² = u_m² + t² u_r² + 2 t cov(m, r) with t = share − ½; JCGM 100:2008 (GUM), equation 13.
        """
        t = share - 0.5
        middle, run_out = self.middle_mm, self.run_out_mm
        variance = middle.u**2 + (t * run_out.u) ** 2 + 2 * t * self.covariance_mm2
        return Estimate(
            value=middle.value + t * run_out.value,
            u=math.sqrt(max(variance, 0.0)),
            dof=middle.dof,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeFit:
    """The gap of an edge, and its flush where it was read at two places or more."""

    edge: str
    span_mm: float
    gap: Run
    flush: Run | None


def read_edge(readings: Sequence[EdgeReading], *, instrument_u_mm: float) -> EdgeFit:
    """The gap and flush of one edge with their run-out.

    Parameters
    ----------
    readings : sequence of EdgeReading, length n ≥ 2
        Of one edge, at two places or more.
    instrument_u_mm : float
        Standard uncertainty of one reading, more than zero: the tool and the hand.

    Raises
    ------
    NotEnoughEvidenceError
        With readings at fewer than two places.
    InputError
        If there are several edges or the uncertainty is not positive.

    Notes
    -----
    A least-squares line. The scatter about it is believed where it exceeds ``instrument_u_mm``
    (n − 2 degrees of freedom); a smaller scatter is luck and the instrument's u stands. A curved
    edge shows as scatter about the line and so widens the doubt.

    Examples
    --------
    >>> rows = [EdgeReading(edge="lid", along_mm=x, gap_mm=4 + x / 500) for x in (0, 250, 500)]
    >>> found = read_edge(rows, instrument_u_mm=0.1)
    >>> round(found.gap.middle_mm.value, 6), round(found.gap.run_out_mm.value, 6)
    (4.5, 1.0)
    """
    edges = sorted({reading.edge for reading in readings})
    if len(edges) > 1:
        raise InputError(field="readings", got=edges, allowed="of one edge")
    if not (math.isfinite(instrument_u_mm) and instrument_u_mm > 0):
        raise InputError(field="instrument_u_mm", got=instrument_u_mm, allowed="more than zero")
    gaps = [(reading.along_mm, reading.gap_mm) for reading in readings]
    flush = [(r.along_mm, r.flush_mm) for r in readings if r.flush_mm is not None]
    if len({along for along, _ in gaps}) < 2:
        raise NotEnoughEvidenceError(
            "A run-out needs readings at two places of the edge or more, best near both ends."
        )
    along = [place for place, _ in gaps]
    enough = len({place for place, _ in flush}) > 1
    return EdgeFit(
        edge=edges[0],
        span_mm=max(along) - min(along),
        gap=_run(gaps, instrument_u_mm=instrument_u_mm),
        flush=_run(flush, instrument_u_mm=instrument_u_mm) if enough else None,
    )


def _run(points: Sequence[tuple[float, float]], *, instrument_u_mm: float) -> Run:
    along, value = np.array(points, dtype=np.float64).T
    middle, span = (along.min() + along.max()) / 2, float(along.max() - along.min())
    line = fit_line(x=along - middle, y=value, u=np.full(along.size, instrument_u_mm))
    wide = max(line.residual_sd, 1.0)  # in units of the instrument's u
    dof = float(line.residual_dof) if line.residual_sd > 1 else math.inf
    return Run(
        middle_mm=Estimate(value=line.intercept.value, u=line.intercept.u * wide, dof=dof),
        run_out_mm=Estimate(value=line.slope.value * span, u=line.slope.u * span * wide, dof=dof),
        readings_n=along.size,
        covariance_mm2=line.covariance * span * wide**2,
    )
