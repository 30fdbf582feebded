"""How much of a sheet is gone, and whether the method can tell."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from asfound.base import Estimate, InputError, NotEnoughEvidenceError
from asfound.measure.budget import from_limits
from asfound.measure.metal.reading import check_reading
from asfound.measure.metal.sheet_gauges import Nominal
from asfound.measure.statistics import mean

_COVERAGE = 0.95


@dataclass(frozen=True, slots=True, kw_only=True)
class ThicknessReading:
    """One reading of sheet thickness.

    Parameters
    ----------
    subject : str
        The panel or part.
    x_mm, y_mm : float
        Where, in the panel's own millimetres.
    thickness_mm : float
        What the instrument said, more than zero.
    """

    subject: str
    x_mm: float
    y_mm: float
    thickness_mm: float

    def __post_init__(self) -> None:
        check_reading(x_mm=self.x_mm, y_mm=self.y_mm, thickness_mm=self.thickness_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class MetalLoss:
    """What is left of one sheet against its nominal thickness.

    ``mean_loss_mm`` speaks for the places read together, ``worst_loss_mm`` for the thinnest
    reading alone; a negative loss means thicker than nominal and is never cut to zero.
    ``limit_mm`` is the error that the loss of any one reading must exceed to be told, 95 % over
    all readings together; ``told_apart`` is False where it exceeds the worst loss.
    """

    subject: str
    nominal: Nominal
    readings_n: int
    mean_left_mm: Estimate
    mean_loss_mm: Estimate
    worst_loss_mm: Estimate
    loss_share: float
    limit_mm: float
    told_apart: bool
    note: str


def _note(*, loss: Estimate, limit_mm: float) -> tuple[bool, str]:
    if abs(loss.value) > limit_mm:
        word = "loss" if loss.value > 0 else "excess over nominal"
        return (
            True,
            f"The {word} of {abs(loss.value):.2f} mm exceeds the error of {limit_mm:.2f} mm.",
        )
    return False, (
        f"The method's error, ±{limit_mm:.2f} mm (95 %), exceeds the difference found, "
        f"{loss.value:.2f} mm: no loss can be told. Measure a cut edge or a protected place "
        "of the same sheet with a micrometer."
    )


def sheet_loss(
    readings: Sequence[ThicknessReading],
    *,
    nominal: Nominal,
    gauge_u_mm: float,
    nominal_tolerance_mm: float,
) -> MetalLoss:
    """The loss of one sheet with its uncertainty, mean and worst.

    Parameters
    ----------
    readings : sequence of ThicknessReading, length n ≥ 1
        Readings of one subject.
    nominal : Nominal
        What the sheet was when new, with its gauge system.
    gauge_u_mm : float
        Standard uncertainty of the instrument, shared by its readings, not negative.
    nominal_tolerance_mm : float
        Half-width within which the sheet may have left the mill, not negative.

    Raises
    ------
    NotEnoughEvidenceError
        If there is no reading.
    InputError
        If the readings are of several subjects or an uncertainty is negative.

    Notes
    -----
    loss = nominal − mean. The tolerance counts as a uniform distribution, u = a/√3 (JCGM
    100:2008, 4.3.7). The instrument's u is common to its readings and does not shrink with n.
    Scatter between places is real variation of the sheet, not error of the method: u of the mean
    covers the instrument and the nominal, the worst place stands beside it. The thinnest of many
    readings is thin by chance too: the limit is k·u with k for a coverage of 0.95^(1/n) (Šidák),
    which is on the safe side where the readings share their error. With the worst loss below it
    ``told_apart`` is False. Ultrasonic readings on rough rusted sheet can err by
    more than the sheet is thick; give them an honest ``gauge_u_mm``.

    Examples
    --------
    >>> from asfound.measure.metal import nominal_in_mm
    >>> one = ThicknessReading(subject="sill", x_mm=0, y_mm=0, thickness_mm=0.7)
    >>> found = sheet_loss(
    ...     [one], nominal=nominal_in_mm(1.0), gauge_u_mm=0.03, nominal_tolerance_mm=0.0
    ... )
    >>> round(found.mean_loss_mm.value, 3), found.told_apart
    (0.3, True)
    """
    if not readings:
        raise NotEnoughEvidenceError("No reading of sheet thickness; take at least one.")
    subjects = sorted({reading.subject for reading in readings})
    if len(subjects) > 1:
        raise InputError(field="readings", got=subjects, allowed="of one panel or part")
    for name, got in (("gauge_u_mm", gauge_u_mm), ("nominal_tolerance_mm", nominal_tolerance_mm)):
        if not (math.isfinite(got) and got >= 0):
            raise InputError(field=name, got=got, allowed="zero or more")
    row = [reading.thickness_mm for reading in readings]
    u = math.hypot(gauge_u_mm, from_limits(nominal_tolerance_mm))
    left = Estimate(value=mean(row), u=gauge_u_mm)
    loss = Estimate(value=nominal.thickness_mm - left.value, u=u)
    worst = Estimate(value=nominal.thickness_mm - min(row), u=u)
    limit_mm = worst.expanded(coverage=math.pow(_COVERAGE, 1 / len(row)))
    told, note = _note(loss=worst, limit_mm=limit_mm)
    return MetalLoss(
        subject=subjects[0],
        nominal=nominal,
        readings_n=len(row),
        mean_left_mm=left,
        mean_loss_mm=loss,
        worst_loss_mm=worst,
        loss_share=loss.value / nominal.thickness_mm,
        limit_mm=limit_mm,
        told_apart=told,
        note=note,
    )
