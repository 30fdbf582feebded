"""A gauge's line from readings on shims, and the correction of a reading by it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from asfound.base import Estimate
from asfound.measure.budget import Component, combine, from_limits
from asfound.measure.line import fit_line


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeDoubt:
    """What is taken for granted about gauges and shims where nothing was measured.

    These are assumptions, not published figures; whoever has certificates passes their own.

    Parameters
    ----------
    resolution_um : float
        Step of the display [µm].
    shim_limit_um, shim_limit_share : float
        Half-width of a shim's certificate, the greater of a fixed part [µm] and a share (0–1)
        of the nominal; none for bare metal.
    offset_um, slope : float
        Standard uncertainty of offset [µm] and slope of a gauge that was never checked.
    repeatability_um : float
        Scatter [µm] of single readings where no readings repeat.
    """

    resolution_um: float = 0.1
    shim_limit_um: float = 1.0
    shim_limit_share: float = 0.005
    offset_um: float = 4.0
    slope: float = 0.03
    repeatability_um: float = 2.0

    def shim_u_um(self, nominal_um: float) -> float:
        """Standard uncertainty of a shim's nominal thickness [µm]."""
        if nominal_um == 0:
            return 0.0
        return from_limits(max(self.shim_limit_um, self.shim_limit_share * nominal_um))


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeLine:
    """reading = offset + slope · true, and how far one reading repeats."""

    offset_um: Estimate
    slope: Estimate
    covariance_um: float
    repeatability_um: Estimate
    readings_n: int

    def line_u_um(self, true_um: float) -> float:
        """Standard uncertainty that the line alone gives to a corrected thickness [µm]."""
        variance = (
            self.offset_um.u**2 + (true_um * self.slope.u) ** 2 + 2 * true_um * self.covariance_um
        )
        return math.sqrt(max(variance, 0.0)) / self.slope.value

    def true_um(self, read_um: float) -> float:
        """True thickness [µm] behind one reading, without its doubt."""
        return (read_um - self.offset_um.value) / self.slope.value

    def correct(self, read_um: float) -> Estimate:
        """True thickness [µm] behind one reading.

        Notes
        -----
        t = (r − a)/b; u² = (s² + u_a² + t² u_b² + 2 t cov)/b², with Welch–Satterthwaite degrees
        of freedom of scatter and line; JCGM 100:2008 (GUM), equations 13 and G.2b.
        """
        true_um = self.true_um(read_um)
        u, dof = combine(
            [
                Component(
                    u=self.repeatability_um.value,
                    sensitivity=1 / self.slope.value,
                    dof=self.repeatability_um.dof,
                ),
                Component(u=self.line_u_um(true_um), dof=self.offset_um.dof),
            ]
        )
        return Estimate(value=true_um, u=u, dof=dof)


@dataclass(frozen=True, slots=True)
class _Shims:
    """Readings gathered by nominal: means, counts and the scatter within."""

    nominal_um: NDArray[np.float64]
    mean_um: NDArray[np.float64]
    count: NDArray[np.float64]
    repeatability_um: Estimate


def gauge_line(
    *, nominal_um: Sequence[float], read_um: Sequence[float], doubt: GaugeDoubt | None = None
) -> GaugeLine:
    """The line of one gauge from its readings on shims.

    Parameters
    ----------
    nominal_um, read_um : sequence of float, shape (n,)
        Certified thickness (0 = bare metal) and what the gauge showed [µm]; may be empty.
    doubt : GaugeDoubt, optional
        Type B figures.

    Notes
    -----
    Repeats on one shim share that shim's error, so the line goes through the shims' means,
    weighted by 1/(s²/n + u_shim²): s is the pooled scatter within shims (type A), u_shim comes
    from the certificate (type B). With one nominal only an offset can be told: the slope stays
    1 with its assumed doubt. With none, the gauge is taken at its word with assumed doubt.
    """
    doubt = doubt or GaugeDoubt()
    if len(nominal_um) == 0:
        return _unchecked(doubt)
    shims = _gather(np.asarray(nominal_um, float), np.asarray(read_um, float), doubt)
    if shims.nominal_um.size == 1:
        return _offset_only(shims, doubt)
    return _full_line(shims, doubt)


def _unchecked(doubt: GaugeDoubt) -> GaugeLine:
    return GaugeLine(
        offset_um=Estimate(value=0.0, u=doubt.offset_um),
        slope=Estimate(value=1.0, u=doubt.slope),
        covariance_um=0.0,
        repeatability_um=Estimate(value=doubt.repeatability_um, u=0.0),
        readings_n=0,
    )


def _gather(nominal: NDArray[np.float64], read: NDArray[np.float64], doubt: GaugeDoubt) -> _Shims:
    levels, group = np.unique(nominal, return_inverse=True)
    count = np.bincount(group).astype(float)
    means = np.bincount(group, weights=read) / count
    dof = read.size - levels.size
    if dof > 0:
        pooled = math.sqrt(float(((read - means[group]) ** 2).sum()) / dof)
        scatter = max(pooled, from_limits(doubt.resolution_um / 2))
        repeat = Estimate(value=scatter, u=scatter / math.sqrt(2 * dof), dof=dof)
    else:
        repeat = Estimate(value=doubt.repeatability_um, u=0.0)
    return _Shims(levels, means, count, repeat)


def _offset_only(shims: _Shims, doubt: GaugeDoubt) -> GaugeLine:
    nominal, read = float(shims.nominal_um[0]), float(shims.mean_um[0])
    scatter = shims.repeatability_um
    u, dof = combine(
        [
            Component(u=scatter.value / math.sqrt(shims.count[0]), dof=scatter.dof),
            Component(u=doubt.shim_u_um(nominal)),
            Component(u=doubt.slope, sensitivity=nominal),
        ]
    )
    return GaugeLine(
        offset_um=Estimate(value=read - nominal, u=u, dof=dof),
        slope=Estimate(value=1.0, u=doubt.slope),
        covariance_um=-nominal * doubt.slope**2,
        repeatability_um=scatter,
        readings_n=int(shims.count.sum()),
    )


def _full_line(shims: _Shims, doubt: GaugeDoubt) -> GaugeLine:
    scatter = shims.repeatability_um
    known = np.array([doubt.shim_u_um(float(n)) for n in shims.nominal_um])
    u = np.sqrt(scatter.value**2 / shims.count + known**2)
    line = fit_line(x=shims.nominal_um, y=shims.mean_um, u=u)
    # Points that miss the line by more than their u say that the u were too small; the line's
    # doubt grows by that ratio and never shrinks.
    grow = max(1.0, line.residual_sd) if line.residual_dof > 0 else 1.0
    share = float((scatter.value**2 / shims.count / u**2).mean())
    dof = scatter.dof / share**2 if share > 0 else math.inf
    return GaugeLine(
        offset_um=Estimate(value=line.intercept.value, u=grow * line.intercept.u, dof=dof),
        slope=Estimate(value=line.slope.value, u=grow * line.slope.u, dof=dof),
        covariance_um=grow**2 * line.covariance,
        repeatability_um=scatter,
        readings_n=int(shims.count.sum()),
    )
