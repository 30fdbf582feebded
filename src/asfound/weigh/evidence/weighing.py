"""The weight of all items of a claim together."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from asfound.base import InputError
from asfound.weigh.evidence.chains import Chain, CountedRatio, chains_of, log_of, strongest
from asfound.weigh.evidence.hinges import losses
from asfound.weigh.evidence.item import Claim, Item, same_words
from asfound.weigh.evidence.posterior import PRIORS, DeclaredPrior, posterior
from asfound.weigh.scale import support_in_words

EYE_CAP = 100.0
"""The most that a ratio by eye may count, and the inverse of the least (a choice of ours, no
source); a workshop may set another."""
_LOG_LIMIT = math.log(1e300)


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighedItem:
    """An item, the ratio that it counts with, and why it does not count where it does not.

    ``counts_lr`` is 1 for an item that is set aside.
    """

    item: Item
    counts_lr: float
    is_capped: bool
    set_aside: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hinge:
    """An item without which the words would be others, and those words."""

    item: Item
    words_without: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Weighed:
    """A claim weighed: the joint ratio, its words, the probabilities at stated priors.

    Parameters
    ----------
    claim : Claim
    log_lr : float
        Natural logarithm of the joint likelihood ratio of the statement.
    items : tuple of WeighedItem
        In the order of the claim.
    posterior : mapping of float to float
        Probability of the statement by prior.
    declared : DeclaredPrior or None
    hinges : tuple of Hinge
        Items any one of which, if it were worth nothing, would change the words.
    """

    claim: Claim
    log_lr: float
    items: tuple[WeighedItem, ...]
    posterior: Mapping[float, float] = field(default_factory=dict)
    declared: DeclaredPrior | None = None
    hinges: tuple[Hinge, ...] = ()

    @property
    def lr(self) -> float:
        """Joint likelihood ratio, told as 10^±300 where it lies beyond."""
        return _ratio(self.log_lr)

    @property
    def words(self) -> str:
        """Support in the words of the published scale."""
        return _words(self.claim, self.log_lr)

    @property
    def declared_posterior(self) -> float | None:
        """Probability at the declared prior; ``None`` where nobody declared one."""
        if self.declared is None:
            return None
        return posterior(log_lr=self.log_lr, prior=self.declared.prior)


def weigh(
    claim: Claim, *, eye_cap: float = EYE_CAP, declared: DeclaredPrior | None = None
) -> Weighed:
    """Weight of a claim's items together, in figures and words.

    Parameters
    ----------
    claim : Claim
    eye_cap : float
        The most a ratio by eye may count, and the inverse of the least; 1 or more, finite.
    declared : DeclaredPrior, optional
        A prior that the workshop declares, shown beside the usual three.

    Raises
    ------
    InputError
        If the cap is below 1, or an item is conditional on one that cannot carry it.

    Notes
    -----
    Ratios multiply where the items are independent given each statement. Items of one cause are
    not: of them only the chain counts whose ratio is furthest from one, a chain being one item
    and what is stated given it. The strongest of several is a careful stand-in and no exact
    ratio of all; a conditional ratio is. A claim without items has the ratio 1.

    An item is a hinge if the words change when its ratio is taken as 1, as if it said nothing;
    the next item of its cause then counts. An item stated given it goes with it.

    References
    ----------
    Fenton & Neil, Calculating the likelihood ratio for multiple pieces of evidence,
    arXiv 2106.05328.

    Examples
    --------
    >>> items = tuple(Item(item=w, lr=x, basis="data") for w, x in (("a", 50.0), ("b", 10.0)))
    >>> claim = Claim(subject="gearbox", statement="first", alternative="later", items=items)
    >>> {prior: round(p, 6) for prior, p in weigh(claim).posterior.items() if prior != 0.5}
    {0.1: 0.982318, 0.9: 0.999778}
    """
    if not (math.isfinite(eye_cap) and eye_cap >= 1):
        raise InputError(field="eye_cap", got=eye_cap, allowed="1 or more and finite")
    ratios = tuple(_held(item, eye_cap) for item in claim.items)
    counted = tuple(strongest(chains) for chains in _by_cause(chains_of(ratios)))
    log_lr = math.fsum(log_of(chain) for chain in counted)
    words = _words(claim, log_lr)
    without = ((item, _words(claim, log_lr - lost)) for item, lost in losses(counted, ratios))
    return Weighed(
        claim=claim,
        log_lr=log_lr,
        items=_accounted(ratios, counted),
        posterior={p: posterior(log_lr=log_lr, prior=p) for p in PRIORS},
        declared=declared,
        hinges=tuple(Hinge(item=i, words_without=w) for i, w in without if w != words),
    )


def _held(item: Item, eye_cap: float) -> CountedRatio:
    lr = min(max(item.lr, 1 / eye_cap), eye_cap) if item.by_eye else item.lr
    return CountedRatio(item=item, lr=lr)


def _by_cause(chains: tuple[Chain, ...]) -> list[list[Chain]]:
    """Chains that may not be multiplied together; each without a cause is alone."""
    groups: dict[object, list[Chain]] = {}
    for place, chain in enumerate(chains):
        groups.setdefault(same_words(chain[0].item.cause) or place, []).append(chain)
    return list(groups.values())


def _accounted(
    ratios: tuple[CountedRatio, ...], counted: tuple[Chain, ...]
) -> tuple[WeighedItem, ...]:
    counting = {id(ratio): chain for chain in counted for ratio in chain}
    stronger = {same_words(chain[0].item.cause): chain[0].item for chain in counted}
    return tuple(
        WeighedItem(
            item=ratio.item,
            counts_lr=ratio.lr if id(ratio) in counting else 1.0,
            is_capped=ratio.is_capped,
            set_aside=""
            if id(ratio) in counting
            else f"shares its cause with “{stronger[same_words(ratio.item.cause)].item}”, "
            "which is stronger",
        )
        for ratio in ratios
    )


def _words(claim: Claim, log_lr: float) -> str:
    return support_in_words(
        _ratio(log_lr), statement=claim.statement, alternative=claim.alternative
    )


def _ratio(log_lr: float) -> float:
    """Ratio to twelve digits, so that 10 times 10 stands on the edge of its band, not below it."""
    return float(f"{math.exp(max(-_LOG_LIMIT, min(_LOG_LIMIT, log_lr))):.12g}")
