"""How far a spot may lie from a specified film."""

from __future__ import annotations

from asfound.base import InputError

LOW_SHARE, HIGH_SHARE = 0.8, 1.2


def spot_limits_um(*, least_um: float, most_um: float) -> tuple[float, float]:
    """Thinnest and thickest spot [µm] allowed under a specified range of film.

    Parameters
    ----------
    least_um, most_um : float
        The specified range [µm], 0 < least ≤ most.

    Raises
    ------
    InputError
        If the range is empty or not positive.

    Notes
    -----
    80 % of the least and 120 % of the most. The rule is made for structures and for a film that
    was specified; it gives no limit for a historic car.

    References
    ----------
    SSPC-PA 2, default restriction level.

    Examples
    --------
    >>> spot_limits_um(least_um=100.0, most_um=150.0)
    (80.0, 180.0)
    """
    if not 0 < least_um <= most_um:
        raise InputError(
            field="least_um", got=(least_um, most_um), allowed="above 0 and not above most_um"
        )
    return LOW_SHARE * least_um, HIGH_SHARE * most_um
