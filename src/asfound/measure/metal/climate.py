"""What the air takes from bare steel: categories of first-year loss and the loss over years."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from asfound.base import InputError

B_CARBON_STEEL = 0.523  # ISO 9224 as restated in open corrosion-model code (secondary source).
LINEAR_AFTER_YEARS = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class CorrosionCategory:
    """A corrosivity category: steel loses above ``over_um_a`` up to ``to_um_a`` in year one."""

    name: str
    over_um_a: float
    to_um_a: float


# ISO 9223, carbon steel, first-year loss; two independent public restatements agree (secondary
# source, the standard's own table was not read).
CATEGORIES: tuple[CorrosionCategory, ...] = tuple(
    CorrosionCategory(name=name, over_um_a=over, to_um_a=to)
    for name, over, to in (
        ("C1", 0.0, 1.3),
        ("C2", 1.3, 25.0),
        ("C3", 25.0, 50.0),
        ("C4", 50.0, 80.0),
        ("C5", 80.0, 200.0),
        ("CX", 200.0, 700.0),
    )
)


def category_of_rate(*, first_year_um_a: float) -> CorrosionCategory:
    """The corrosivity category of a first-year loss of bare carbon steel.

    Parameters
    ----------
    first_year_um_a : float
        Loss in the first year, µm; 0 to 700.

    Raises
    ------
    InputError
        If the loss is negative or beyond category CX.

    Notes
    -----
    An edge belongs to the lower category ("up to and including").

    References
    ----------
    ISO 9223, categories C1 to CX for carbon steel (secondary source).

    Examples
    --------
    >>> category_of_rate(first_year_um_a=30).name
    'C3'
    """
    if math.isfinite(first_year_um_a) and first_year_um_a >= 0:
        for category in CATEGORIES:
            if first_year_um_a <= category.to_um_a:
                return category
    raise InputError(field="first_year_um_a", got=first_year_um_a, allowed="between 0 and 700")


def depth_after(*, years: float, first_year_um_a: float, b: float = B_CARBON_STEEL) -> float:
    """Loss in µm of bare metal after some years in one climate.

    Parameters
    ----------
    years : float
        Time of exposure, zero or more.
    first_year_um_a : float
        Loss of the first year, µm, zero or more.
    b : float
        Exponent of the metal, more than 0 and at most 1; 0.523 for carbon steel.

    Raises
    ------
    InputError
        If a number is out of range.

    Notes
    -----
    D = r·t^b up to 20 years; after that D = r·[20^b + b·20^(b−1)·(t − 20)], the tangent. Holds
    for bare, open steel; a seam that holds mud and salt goes faster.

    References
    ----------
    ISO 9224 as restated in open corrosion-model code (secondary source).

    Examples
    --------
    >>> round(depth_after(years=20, first_year_um_a=50))
    240
    """
    if not (math.isfinite(years) and years >= 0):
        raise InputError(field="years", got=years, allowed="zero or more")
    if not (math.isfinite(first_year_um_a) and first_year_um_a >= 0):
        raise InputError(field="first_year_um_a", got=first_year_um_a, allowed="zero or more")
    if not 0 < b <= 1:
        raise InputError(field="b", got=b, allowed="more than 0 and at most 1")
    if years <= LINEAR_AFTER_YEARS:
        return first_year_um_a * math.pow(years, b)
    slope = b * math.pow(LINEAR_AFTER_YEARS, b - 1)
    bend = math.pow(LINEAR_AFTER_YEARS, b)
    return first_year_um_a * (bend + slope * (years - LINEAR_AFTER_YEARS))


@dataclass(frozen=True, slots=True, kw_only=True)
class ClimatePeriod:
    """A time in one climate, in years of the calendar, with the first-year loss of its air.

    ``low_um_a`` and ``high_um_a`` are the ends of the category, or both the measured value.
    """

    since_year: float
    until_year: float
    category: str
    low_um_a: float
    high_um_a: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.since_year) and self.until_year > self.since_year):
            raise InputError(
                field="until", got=(self.since_year, self.until_year), allowed="later than since"
            )
        if not 0 <= self.low_um_a <= self.high_um_a:
            raise InputError(
                field="first_year_um",
                got=(self.low_um_a, self.high_um_a),
                allowed="zero or more, rising",
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class BareLoss:
    """What bare, open steel would have lost on one face over a history, and in how many years.

    ``unknown_years`` lie between the periods and count as no loss.
    """

    low_um: float
    high_um: float
    years: float
    unknown_years: float


def bare_loss(periods: Sequence[ClimatePeriod]) -> BareLoss:
    """Loss of bare carbon steel on one face over a history of climates.

    Parameters
    ----------
    periods : sequence of ClimatePeriod, length n ≥ 1
        In the order of time, none before the other's end.

    Raises
    ------
    InputError
        If there is no period, or two overlap.

    Notes
    -----
    D = Σ r_i·[g(age at end) − g(age at beginning)] with g of ``depth_after``: the age runs on
    through a change of climate, since the rust already there slows what follows. The standard
    speaks of one climate; carrying the age on is a choice of ours. Years between periods add to
    neither age nor loss.

    References
    ----------
    ISO 9223 and ISO 9224 (secondary sources); see ``depth_after``.

    Examples
    --------
    >>> shed = ClimatePeriod(
    ...     since_year=1960, until_year=1980, category="C3", low_um_a=25, high_um_a=50
    ... )
    >>> round(bare_loss([shed]).high_um)
    240
    """
    if not periods:
        raise InputError(field="climates", got=0, allowed="one period or more")
    if any(later.since_year < earlier.until_year - 1e-9 for earlier, later in pairwise(periods)):
        raise InputError(
            field="since",
            got=[period.since_year for period in periods],
            allowed="no period before the end of the one above it",
        )
    age = low = high = 0.0
    for period in periods:
        until = age + period.until_year - period.since_year
        grown = depth_after(years=until, first_year_um_a=1) - depth_after(
            years=age, first_year_um_a=1
        )
        low, high, age = low + period.low_um_a * grown, high + period.high_um_a * grown, until
    whole = periods[-1].until_year - periods[0].since_year
    return BareLoss(low_um=low, high_um=high, years=age, unknown_years=max(0.0, whole - age))
