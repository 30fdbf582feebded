"""What a lock or a moved limit turned, and how many pieces are contested before and after."""

from __future__ import annotations

from dataclasses import dataclass

from asfound.choose.reason import LEAST_SHARE
from asfound.record.derived import ChoiceResult


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """One choice held against the one before the last change.

    Parameters
    ----------
    turned : tuple of (str, str, str)
        Piece, its option before, and its option now; by name.
    contested_n, contested_before_n : int
    """

    turned: tuple[tuple[str, str, str], ...]
    contested_n: int
    contested_before_n: int


def moved(before: ChoiceResult | None, now: ChoiceResult) -> Moved | None:
    """What changed; none where nothing is remembered or either has no choice."""
    if before is None or before.choice is None or now.choice is None:
        return None
    was = before.choice.options
    return Moved(
        turned=tuple(
            (subject, was[subject], option)
            for subject, option in sorted(now.choice.options.items())
            if was.get(subject, option) != option
        ),
        contested_n=contested_n(now),
        contested_before_n=contested_n(before),
    )


def contested_n(result: ChoiceResult) -> int:
    """How many pieces could go another way for so little of the fabric that no figure tells it."""
    lost = (why.kept_lost for why in result.whys)
    return sum(share is not None and share < LEAST_SHARE for share in lost)
