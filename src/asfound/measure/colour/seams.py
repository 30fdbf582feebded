"""Seams: how well neighbouring panels match where the eye compares them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from asfound.base import NotEnoughEvidenceError
from asfound.measure.colour.difference import ColourDifference, difference
from asfound.measure.colour.grey_scale import GreyStep, grey_step
from asfound.measure.colour.readings import ColourMean, ColourReading, mean_colour, one_viewing


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """The difference across one seam; the grey step rests on ΔE76, the order on ΔE00."""

    first: str
    second: str
    change: ColourDifference
    grey: GreyStep


def exposed_means(
    readings: Sequence[ColourReading], *, instrument_u: float
) -> dict[str, ColourMean]:
    """The mean exposed colour of each panel or part, all under one light and observer."""
    one_viewing(r.viewing for r in readings)
    groups: defaultdict[str, list[ColourReading]] = defaultdict(list)
    for reading in readings:
        if reading.exposure == "exposed":
            groups[reading.subject].append(reading)
    return {name: mean_colour(group, instrument_u=instrument_u) for name, group in groups.items()}


def seams(
    readings: Sequence[ColourReading],
    *,
    neighbours: Sequence[tuple[str, str]],
    instrument_u: float,
) -> tuple[Seam, ...]:
    """The seams between neighbouring panels, the worst match first.

    Parameters
    ----------
    readings : sequence of ColourReading
        Exposed readings count; hidden ones are left aside. All under one light and observer.
    neighbours : sequence of (str, str)
        Pairs of panels that meet; a pair with an unread panel is left out.
    instrument_u : float
        Standard uncertainty of one reading in each coordinate, more than zero.

    Raises
    ------
    NotEnoughEvidenceError
        If no pair has readings on both sides.
    InputError
        If lights or observers differ.
    """
    if not readings:
        raise NotEnoughEvidenceError("No colour reading; take some on each panel.")
    means = exposed_means(readings, instrument_u=instrument_u)
    found = [
        _seam(one, two, means=means) for one, two in neighbours if one in means and two in means
    ]
    if not found:
        raise NotEnoughEvidenceError("No two neighbouring panels have exposed colour readings.")
    return tuple(sorted(found, key=lambda s: (-s.change.delta_e00.value, s.first, s.second)))


def _seam(one: str, two: str, *, means: dict[str, ColourMean]) -> Seam:
    change = difference(means[one], means[two])
    return Seam(
        first=one, second=two, change=change, grey=grey_step(delta_e76=change.delta_e76.value)
    )
