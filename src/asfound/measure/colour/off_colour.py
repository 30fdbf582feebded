"""Panels slightly off the car's own colour as a humble sign of later work."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from asfound.base import Estimate, InputError, NotEnoughEvidenceError
from asfound.measure.colour.difference import difference
from asfound.measure.colour.readings import ColourMean, ColourReading
from asfound.measure.colour.seams import exposed_means


@dataclass(frozen=True, slots=True, kw_only=True)
class OffColourModel:
    """The stated assumptions; all four are guesses, no source.

    Parameters
    ----------
    undisturbed_scale : float
        Scatter per axis of undisturbed panels about the car's colour, ΔE00 units.
    later_scale : float
        The same for a panel matched by eye later; more than ``undisturbed_scale``.
    matched_share : float
        Share of later work matched so well that it scatters like undisturbed paint, 0 to 1,
        both excluded.
    most_lr : float
        The ratio is never let above this, more than 1: the tail of the model is not to be trusted.
    """

    undisturbed_scale: float = 0.5
    later_scale: float = 1.5
    matched_share: float = 0.5
    most_lr: float = 20.0

    def __post_init__(self) -> None:
        if not 0 < self.undisturbed_scale < self.later_scale < math.inf:
            raise InputError(
                field="undisturbed_scale",
                got=self.undisturbed_scale,
                allowed=f"more than 0 and below later_scale, {self.later_scale}",
            )
        if not 0 < self.matched_share < 1:
            raise InputError(
                field="matched_share", got=self.matched_share, allowed="between 0 and 1"
            )
        if not 1 < self.most_lr < math.inf:
            raise InputError(field="most_lr", got=self.most_lr, allowed="more than 1")

    def lr_later_work(self, away: Estimate) -> float:
        """The likelihood ratio for "carries later work" of a distance ΔE00 from the car's colour.

        Notes
        -----
        Three colour axes scatter alike, so the distance follows the Maxwell distribution (chi,
        three degrees of freedom) with scale √(s² + u²) per axis. Later work is
        a mixture: ``matched_share`` with the undisturbed scale, the rest with ``later_scale``.
        LR = m + (1 − m) f(d; S)/f(d; s): never below m, because a good match proves nothing.
        With f(d; a) ∝ (d²/a³) exp(−d²/2a²), ln f(d; S)/f(d; s) = 3 ln(s/S) + d²/2 (1/s² − 1/S²).
        The ratio is taken at most ``most_lr``.
        """
        near, far = (math.hypot(s, away.u) for s in (self.undisturbed_scale, self.later_scale))
        half_square = max(away.value, 0.0) ** 2 / 2
        log_ratio = 3 * math.log(near / far) + half_square * (near**-2 - far**-2)
        ratio = math.exp(min(log_ratio, 700.0))
        return min(self.matched_share + (1 - self.matched_share) * ratio, self.most_lr)


@dataclass(frozen=True, slots=True, kw_only=True)
class ColourSign:
    """One panel's distance from the car's exposed colour and what it says of later work."""

    subject: str
    away_e00: Estimate
    lr_later_work: float


def off_colour(
    readings: Sequence[ColourReading],
    *,
    instrument_u: float,
    model: OffColourModel | None = None,
) -> tuple[ColourSign, ...]:
    """Each panel's likelihood ratio for later work from its colour, the furthest first.

    Parameters
    ----------
    readings : sequence of ColourReading
        Exposed readings count. All of one colour of paint: give the panels of a second colour in
        a call of their own.
    instrument_u : float
        Standard uncertainty of one reading in each coordinate, more than zero.
    model : OffColourModel, optional
        The assumptions.

    Raises
    ------
    NotEnoughEvidenceError
        With fewer than three panels: then there is no common colour to be off from.
    InputError
        If lights or observers differ.

    Notes
    -----
    The common colour is the median of the panels' means, coordinate by coordinate; it stays put
    while fewer than half of the panels differ. A car refinished all over in one go shows nothing.
    Sun from one side and polishing move colour too, and horizontal panels fade first: read the
    ratio as a reason to look.
    """
    if not readings:
        raise NotEnoughEvidenceError("No colour reading; take some on each panel.")
    means = exposed_means(readings, instrument_u=instrument_u)
    if len(means) < 3:
        raise NotEnoughEvidenceError(
            f"{len(means)} panels have exposed colour readings; three or more give a common colour."
        )
    rule = model or OffColourModel()
    common = _common(tuple(means.values()))
    away = {name: difference(common, mean).delta_e00 for name, mean in means.items()}
    signs = [
        ColourSign(subject=name, away_e00=e00, lr_later_work=rule.lr_later_work(e00))
        for name, e00 in away.items()
    ]
    return tuple(sorted(signs, key=lambda s: (-s.away_e00.value, s.subject)))


def _common(means: tuple[ColourMean, ...]) -> ColourMean:
    middle = np.median(np.array([mean.lab for mean in means]), axis=0)
    l_star, a_star, b_star = (Estimate(value=float(v), u=0.0) for v in middle)
    return ColourMean(
        l_star=l_star,
        a_star=a_star,
        b_star=b_star,
        readings_n=sum(mean.readings_n for mean in means),
        viewing=means[0].viewing,
    )


def joined_lr(*, film_lr: float, colour_lr: float) -> float:
    """The ratio for later work from film and colour together: their product.

    Parameters
    ----------
    film_lr, colour_lr : float
        Ratios for "carries later work", each more than zero, of one panel.

    Raises
    ------
    InputError
        If a ratio is not a finite number above zero.

    Notes
    -----
    The product holds if thickness and colour are independent given the truth: the gauge does not
    know the hue, and the colour meter does not see the depth. They are not when one cause moves
    both, such as a hard polish: then use the one that is nearer to the question.
    """
    for name, got in (("film_lr", film_lr), ("colour_lr", colour_lr)):
        if not (math.isfinite(got) and got > 0):
            raise InputError(field=name, got=got, allowed="a finite number above zero")
    return film_lr * colour_lr
