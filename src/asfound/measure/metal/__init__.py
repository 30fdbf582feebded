"""Sheet metal: what it was, what is left, how fast it goes."""

from asfound.measure.metal.climate import (
    CATEGORIES,
    BareLoss,
    ClimatePeriod,
    CorrosionCategory,
    bare_loss,
    category_of_rate,
    depth_after,
)
from asfound.measure.metal.life import RemainingLife, ThicknessOnDate, remaining_life
from asfound.measure.metal.loss import MetalLoss, ThicknessReading, sheet_loss
from asfound.measure.metal.places import Occasion, Place, PlaceLife, places_of
from asfound.measure.metal.read import CarMetal, SubjectMetal, read_metal
from asfound.measure.metal.sheet_gauges import GaugeSystem, Nominal, nominal, nominal_in_mm
from asfound.measure.metal.survey import MetalReading, MetalSubject, MetalSurvey, SubjectKind

__all__ = [
    "CATEGORIES",
    "BareLoss",
    "CarMetal",
    "ClimatePeriod",
    "CorrosionCategory",
    "GaugeSystem",
    "MetalLoss",
    "MetalReading",
    "MetalSubject",
    "MetalSurvey",
    "Nominal",
    "Occasion",
    "Place",
    "PlaceLife",
    "RemainingLife",
    "SubjectKind",
    "SubjectMetal",
    "ThicknessOnDate",
    "ThicknessReading",
    "bare_loss",
    "category_of_rate",
    "depth_after",
    "nominal",
    "nominal_in_mm",
    "places_of",
    "read_metal",
    "remaining_life",
    "sheet_loss",
]
