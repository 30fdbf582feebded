"""What people wrote down and what the program derives, brought together to be weighed."""

from asfound.record.evidence.claims import all_claims, joined
from asfound.record.evidence.events import event_claims, tells_kinds
from asfound.record.evidence.finish import finish_claims
from asfound.record.evidence.statements import FINISH, FITTED, Pair

__all__ = [
    "FINISH",
    "FITTED",
    "Pair",
    "all_claims",
    "event_claims",
    "finish_claims",
    "joined",
    "tells_kinds",
]
