"""Polishing: what a pass takes off and what may still come off."""

from asfound.measure.polish.area import AreaBudget, ProcessBudget, SpotBudget
from asfound.measure.polish.budget import Floor, PassesLeft, SpotLeft, left_by_spot, passes_left
from asfound.measure.polish.present import PresentSpot
from asfound.measure.polish.read import STAY_PROBABILITY, AreaRemoval, PolishResult, read_polish
from asfound.measure.polish.removal import PolishSpot, Removal, removal_per_pass
from asfound.measure.polish.survey import PanelFloor, PolishReading, PolishSurvey

__all__ = [
    "STAY_PROBABILITY",
    "AreaBudget",
    "AreaRemoval",
    "Floor",
    "PanelFloor",
    "PassesLeft",
    "PolishReading",
    "PolishResult",
    "PolishSpot",
    "PolishSurvey",
    "PresentSpot",
    "ProcessBudget",
    "Removal",
    "SpotBudget",
    "SpotLeft",
    "left_by_spot",
    "passes_left",
    "read_polish",
    "removal_per_pass",
]
