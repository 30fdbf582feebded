"""Polishing: what a pass takes off and what may still come off."""

from asfound.measure.polish.budget import Floor, PassesLeft, SpotLeft, left_by_spot, passes_left
from asfound.measure.polish.removal import PolishSpot, Removal, removal_per_pass

__all__ = [
    "Floor",
    "PassesLeft",
    "PolishSpot",
    "Removal",
    "SpotLeft",
    "left_by_spot",
    "passes_left",
    "removal_per_pass",
]
