"""What a weight of evidence does not say, in words."""

from __future__ import annotations

from asfound.weigh.evidence.posterior import posterior
from asfound.weigh.evidence.weighing import Weighed

RARE_PRIOR = 0.01
"""The prior of the warning: where one such piece in a hundred is what the statement says."""


def base_rate_warning(weighed: Weighed) -> str:
    """What becomes of the statement that has support where such pieces are rare.

    Examples
    --------
    >>> from asfound.weigh.evidence import Claim, Item, weigh
    >>> item = Item(item="number", lr=1000.0, basis="data")
    >>> claim = Claim(subject="engine", statement="first", alternative="later", items=(item,))
    >>> base_rate_warning(weigh(claim)).endswith("the probability of “first” is then 91 %.")
    True
    """
    claim, log_lr = weighed.claim, weighed.log_lr
    favoured, log = (claim.statement, log_lr) if log_lr >= 0 else (claim.alternative, -log_lr)
    rare = posterior(log_lr=log, prior=RARE_PRIOR)
    return (
        "The words tell how much more probable the findings are under one statement than under "
        "the other, not how probable the statement is. Where only one such piece in a hundred is "
        f"so, the probability of “{favoured}” is then {_percent(rare)}."
    )


def _percent(share: float) -> str:
    if share > 0.999:
        return "above 99.9 %"
    if share < 0.01:
        return "below 1 %"
    return f"{share:.{1 if share > 0.99 else 0}%}".replace("%", " %")
