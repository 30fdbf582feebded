"""What a weight would be if one item that counts were worth nothing."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from asfound.weigh.evidence.chains import Chain, CountedRatio, chains_of, log_of, strongest
from asfound.weigh.evidence.item import Item, same_words


def losses(
    counted: Sequence[Chain], ratios: Sequence[CountedRatio]
) -> Iterator[tuple[Item, float]]:
    """Each item that counts, and what the logarithm of the joint ratio loses without it.

    Parameters
    ----------
    counted : sequence of Chain
        Those that are multiplied.
    ratios : sequence of CountedRatio
        All of the claim; the next strongest of the cause counts in place of one that is lost.
    """
    for chain in counted:
        for place, ratio in enumerate(chain):
            instead = _without(chain, place, ratios)
            yield ratio.item, log_of(chain) - log_of(instead)


def _without(chain: Chain, place: int, ratios: Sequence[CountedRatio]) -> Chain:
    """What counts for the cause when the chain breaks off before that place."""
    left = [chain[:place]] if place else []
    cause = same_words(chain[0].item.cause)
    if cause:
        gone = {id(ratio) for ratio in chain}
        rest = chains_of([ratio for ratio in ratios if id(ratio) not in gone])
        left += [other for other in rest if same_words(other[0].item.cause) == cause]
    return strongest(left) if left else ()
