"""What comes off first, what must come off to reach a piece, and how it goes together again."""

from asfound.plan.strip.piece import Assembly, Joint, Piece
from asfound.plan.strip.reach import Way, way_to
from asfound.plan.strip.rebuild import Rebuild, RebuildLink, rebuild_order

__all__ = [
    "Assembly",
    "Joint",
    "Piece",
    "Rebuild",
    "RebuildLink",
    "Way",
    "rebuild_order",
    "way_to",
]
