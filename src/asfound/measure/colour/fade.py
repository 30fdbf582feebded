"""Fade: what daylight did, from hidden against exposed places of one panel."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from asfound.base import InputError, NotEnoughEvidenceError
from asfound.measure.colour.difference import ColourDifference, difference
from asfound.measure.colour.grey_scale import GreyStep, grey_step
from asfound.measure.colour.readings import ColourReading, mean_colour


@dataclass(frozen=True, slots=True, kw_only=True)
class Fade:
    """Exposed less hidden colour of one subject.

    ``told_apart`` is True where some of ΔL, ΔC, ΔH differs from zero beyond its expanded
    uncertainty, at 95 % for the three together.
    """

    subject: str
    change: ColourDifference
    grey: GreyStep
    hidden_n: int
    exposed_n: int
    told_apart: bool


def fade(readings: Sequence[ColourReading], *, instrument_u: float) -> Fade:
    """The change of colour from hidden to exposed places of one panel or part.

    Parameters
    ----------
    readings : sequence of ColourReading
        Of one subject, some hidden and some exposed, under one light and observer.
    instrument_u : float
        Standard uncertainty of one reading in each coordinate, more than zero.

    Raises
    ------
    NotEnoughEvidenceError
        If hidden or exposed readings are missing.
    InputError
        If there are several subjects, lights or observers.

    Notes
    -----
    ``told_apart`` tests three differences, each at 1 − 0.05/3 (Bonferroni).
    """
    subjects = sorted({r.subject for r in readings})
    if len(subjects) > 1:
        raise InputError(field="readings", got=subjects, allowed="of one panel or part")
    hidden = [r for r in readings if r.exposure == "hidden"]
    exposed = [r for r in readings if r.exposure == "exposed"]
    if not hidden or not exposed:
        raise NotEnoughEvidenceError(
            "Fade needs readings of both a hidden and an exposed place; read under a trim or seal."
        )
    change = difference(
        mean_colour(hidden, instrument_u=instrument_u),
        mean_colour(exposed, instrument_u=instrument_u),
    )
    three = (change.delta_l, change.delta_c, change.delta_h)
    return Fade(
        subject=subjects[0],
        change=change,
        grey=grey_step(delta_e76=change.delta_e76.value),
        hidden_n=len(hidden),
        exposed_n=len(exposed),
        told_apart=any(abs(d.value) > d.expanded(coverage=1 - 0.05 / 3) for d in three),
    )
