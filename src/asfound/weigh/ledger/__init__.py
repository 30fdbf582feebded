"""The state of every piece as found, by rules over the weights of evidence, and their shares."""

from asfound.weigh.ledger.count import Account, Piece, Share, account
from asfound.weigh.ledger.state import (
    AS_WRITTEN,
    STATES,
    SUPPLIED,
    Decided,
    State,
    StateRule,
    decide,
    state_of_words,
)

__all__ = [
    "AS_WRITTEN",
    "STATES",
    "SUPPLIED",
    "Account",
    "Decided",
    "Piece",
    "Share",
    "State",
    "StateRule",
    "account",
    "decide",
    "state_of_words",
]
