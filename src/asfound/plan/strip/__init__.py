"""What comes off first, what must come off to reach a piece, and how it goes together again."""

from asfound.plan.strip.piece import Assembly, Joint, Piece
from asfound.plan.strip.reach import Way, way_to
from asfound.plan.strip.rebuild import Rebuild, RebuildLink, rebuild_order
from asfound.plan.strip.rings import Ring, rings_of

__all__ = [
    "Assembly",
    "Joint",
    "Piece",
    "Rebuild",
    "RebuildLink",
    "Ring",
    "Way",
    "rebuild_order",
    "rings_of",
    "way_to",
]
