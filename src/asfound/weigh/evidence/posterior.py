"""From a likelihood ratio and a prior to a probability."""

from __future__ import annotations

import math
from dataclasses import dataclass

from asfound.base import InputError

PRIORS = (0.1, 0.5, 0.9)
"""Priors at which a probability is always shown, so that nobody takes one for the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DeclaredPrior:
    """A prior that a workshop declares for a statement, and why.

    Parameters
    ----------
    prior : float
        Probability of the statement before the evidence, above 0 and below 1.
    reason : str
        Where the figure comes from; may not be empty.
    """

    prior: float
    reason: str

    def __post_init__(self) -> None:
        _check(self.prior)
        if not self.reason.strip():
            raise InputError(
                field="reason", got=self.reason, allowed="filled: a prior is declared with a reason"
            )


def posterior(*, log_lr: float, prior: float) -> float:
    """Probability of the statement after the evidence.

    Parameters
    ----------
    log_lr : float
        Natural logarithm of the likelihood ratio.
    prior : float
        Probability of the statement before it, above 0 and below 1.

    Raises
    ------
    InputError
        If the prior is not between 0 and 1.

    Notes
    -----
    Posterior odds = likelihood ratio · prior odds (Bayes).

    Examples
    --------
    >>> import math
    >>> round(posterior(log_lr=math.log(1000), prior=0.01), 6)
    0.909918
    """
    _check(prior)
    log_odds = log_lr + math.log(prior) - math.log1p(-prior)
    if log_odds >= 0:
        return 1 / (1 + math.exp(-log_odds))
    odds = math.exp(log_odds)
    return odds / (1 + odds)


def _check(prior: float) -> None:
    if not 0 < prior < 1:
        raise InputError(
            field="prior",
            got=prior,
            allowed="above 0 and below 1",
            remedy="No evidence could move a prior of 0 or 1.",
        )
