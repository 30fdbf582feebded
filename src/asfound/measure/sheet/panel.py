"""A panel of the unfolded sheet: its outline in its own mm and where it lies."""

from __future__ import annotations

from dataclasses import dataclass

import shapely
from shapely import Polygon, affinity

from asfound.base import InputError

Placement = tuple[float, float, float, bool]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPanel:
    """A panel with its outline and its place on the sheet.

    Parameters
    ----------
    panel : str
        Name, unique on the sheet.
    section : str
        Part of the car: front, middle or rear.
    view : str
        Side from which the panel is looked at: top, left, right, front or rear.
    outline : Polygon
        In the panel's own mm, seen from outside, x to the right and y down; its bounding box
        begins at 0, 0.
    placement : tuple of (float, float, float, bool)
        dx and dy in mm, angle in degrees (clockwise as drawn, since y is down), and whether the
        outline is mirrored (x to −x) before it is turned and moved.
    substrate : str
        Unknown until a gauge or magnet tells.
    """

    panel: str
    section: str
    view: str
    outline: Polygon
    placement: Placement
    substrate: str = "unknown"

    def __post_init__(self) -> None:
        if not self.outline.is_valid or self.outline.is_empty or self.outline.interiors:
            raise InputError(
                field=self.panel, got=self.outline.wkt[:60], allowed="one simple outline, no holes"
            )

    @property
    def area_m2(self) -> float:
        """Area of the flat outline; a crowned panel has a little more skin than this."""
        return float(self.outline.area) / 1e6

    @property
    def outline_wkt(self) -> str:
        """The outline as text, to a tenth of a millimetre."""
        return shapely.to_wkt(self.outline, rounding_precision=1)

    @property
    def placement_text(self) -> str:
        """The placement as a table keeps it: ``dx dy angle_deg`` and perhaps ``mirrored``."""
        dx, dy, angle_deg, mirrored = self.placement
        words = [f"{round(v, 1) + 0.0:g}" for v in (dx, dy, angle_deg)]
        return " ".join([*words, "mirrored"] if mirrored else words)

    @property
    def on_sheet(self) -> Polygon:
        """The outline where it lies on the sheet, in sheet mm, y down."""
        dx, dy, angle_deg, mirrored = self.placement
        shape = affinity.scale(self.outline, xfact=-1, origin=(0, 0)) if mirrored else self.outline
        turned = affinity.rotate(shape, angle_deg, origin=(0, 0))
        return affinity.translate(turned, dx, dy)
