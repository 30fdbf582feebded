"""The unfolded sheet of a car's panels, from tape measurements or traced over a photograph."""

from asfound.measure.sheet.complete import Lengths, complete
from asfound.measure.sheet.forms import BodyForm
from asfound.measure.sheet.homography import Homography, homography_from_points, trace_to_panel
from asfound.measure.sheet.panel import SheetPanel
from asfound.measure.sheet.tape import TapeMeasurements
from asfound.measure.sheet.unfold import unfolded_sheet

__all__ = [
    "BodyForm",
    "Homography",
    "Lengths",
    "SheetPanel",
    "TapeMeasurements",
    "complete",
    "homography_from_points",
    "trace_to_panel",
    "unfolded_sheet",
]
