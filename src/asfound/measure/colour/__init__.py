"""Colour readings: differences, fade, seams, and panels slightly off the car's own colour."""

from asfound.measure.colour.car import (
    OTHER_PAINT_E00,
    CarColour,
    ColourSurvey,
    PanelSign,
    PlaceColour,
    ViewedColour,
    read_colour,
)
from asfound.measure.colour.difference import ColourDifference, difference
from asfound.measure.colour.fade import Fade, fade
from asfound.measure.colour.grey_scale import GreyStep, grey_step
from asfound.measure.colour.off_colour import (
    ColourSign,
    OffColourModel,
    joined_lr,
    off_colour,
)
from asfound.measure.colour.readings import (
    NOT_STATED,
    ColourMean,
    ColourReading,
    Viewing,
    mean_colour,
)
from asfound.measure.colour.seams import Seam, seams
from asfound.measure.colour.thresholds import THRESHOLDS, ColourThreshold

__all__ = [
    "NOT_STATED",
    "OTHER_PAINT_E00",
    "THRESHOLDS",
    "CarColour",
    "ColourDifference",
    "ColourMean",
    "ColourReading",
    "ColourSign",
    "ColourSurvey",
    "ColourThreshold",
    "Fade",
    "GreyStep",
    "OffColourModel",
    "PanelSign",
    "PlaceColour",
    "Seam",
    "ViewedColour",
    "Viewing",
    "difference",
    "fade",
    "grey_step",
    "joined_lr",
    "mean_colour",
    "off_colour",
    "read_colour",
    "seams",
]
