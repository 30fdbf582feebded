"""Sheet metal: what it was, what is left, how fast it goes."""

from asfound.measure.metal.climate import (
    CATEGORIES,
    CorrosionCategory,
    category_of_rate,
    depth_after,
)
from asfound.measure.metal.life import RemainingLife, ThicknessOnDate, remaining_life
from asfound.measure.metal.loss import MetalLoss, ThicknessReading, sheet_loss
from asfound.measure.metal.sheet_gauges import GaugeSystem, Nominal, nominal, nominal_in_mm

__all__ = [
    "CATEGORIES",
    "CorrosionCategory",
    "GaugeSystem",
    "MetalLoss",
    "Nominal",
    "RemainingLife",
    "ThicknessOnDate",
    "ThicknessReading",
    "category_of_rate",
    "depth_after",
    "nominal",
    "nominal_in_mm",
    "remaining_life",
    "sheet_loss",
]
