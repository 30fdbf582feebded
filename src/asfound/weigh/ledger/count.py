"""The ledger of a car as found: how much of it is in which state."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from asfound.base import InputError
from asfound.weigh.ledger.state import STATES, Decided, State


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A part, or the finish of a panel, with the state decided for it.

    Parameters
    ----------
    name : str
    decided : Decided
    amount : float
        How much it counts: area [mm²], significance, or 1; zero or more, finite.
    later_share : float
        Of a finish in state L, the share of its area that is outlined as later work, above 0 to
        1; the rest was not weighed by itself and counts as not known.
    """

    name: str
    decided: Decided
    amount: float
    later_share: float = 1.0

    def __post_init__(self) -> None:
        if not (math.isfinite(self.amount) and self.amount >= 0):
            raise InputError(field="amount", got=self.amount, allowed="zero or more and finite")
        if not 0 < self.later_share <= 1:
            raise InputError(
                field="later_share", got=self.later_share, allowed="above 0 and at most 1"
            )


@dataclass(frozen=True, slots=True, kw_only=True)
class Share:
    """How much is in a state: its amount, its share of the whole, and how many pieces."""

    state: State
    amount: float
    share: float
    pieces_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Account:
    """Shares of every state that add up to the whole.

    Parameters
    ----------
    shares : tuple of Share
        One for each of ``STATES`` in their order, zero where nothing is in it.
    total : float
        The whole amount.
    pieces_n : int
    """

    shares: tuple[Share, ...]
    total: float
    pieces_n: int

    @property
    def original(self) -> float:
        """Share shown to be original."""
        return self._share("O")

    @property
    def not_known(self) -> float:
        """Share of which the evidence says too little; never counted to either side."""
        return self._share("U")

    def _share(self, state: str) -> float:
        return next(share.share for share in self.shares if share.state == state)


def account(pieces: Iterable[Piece]) -> Account:
    """Shares of the states over pieces.

    Notes
    -----
    Share = Σ amount in the state / Σ amount; without any amount every share is zero.

    Examples
    --------
    >>> from asfound.weigh.ledger import Decided, Piece, account
    >>> wing = Piece(name="wing", decided=Decided(state="O", because=""), amount=3.0)
    >>> door = Piece(name="door", decided=Decided(state="U", because=""), amount=1.0)
    >>> account([wing, door]).original, account([wing, door]).not_known
    (0.75, 0.25)
    """
    listed = tuple(pieces)
    amounts = {state: math.fsum(_part(piece, state) for piece in listed) for state in STATES}
    total = math.fsum(piece.amount for piece in listed)
    return Account(
        shares=tuple(
            Share(
                state=state,  # type: ignore[arg-type]  # keys are the letters of State
                amount=amount,
                share=amount / total if total else 0.0,
                pieces_n=sum(piece.decided.state == state for piece in listed),
            )
            for state, amount in amounts.items()
        ),
        total=total,
        pieces_n=len(listed),
    )


def _part(piece: Piece, state: str) -> float:
    """Amount of the piece that counts to the state."""
    if piece.decided.state == "L" and piece.later_share < 1:
        shares = {"L": piece.later_share, "U": 1 - piece.later_share}
        return piece.amount * shares.get(state, 0.0)
    return piece.amount if piece.decided.state == state else 0.0
