"""The unfolded sheet: every panel of a car to scale, laid out as the opened skin of the car."""

from __future__ import annotations

from shapely import Polygon, affinity

from asfound.measure.sheet.complete import complete
from asfound.measure.sheet.curves import largest
from asfound.measure.sheet.ends import front_panels, rear_panels
from asfound.measure.sheet.forms import BodyForm
from asfound.measure.sheet.panel import SheetPanel
from asfound.measure.sheet.plan import plan_panels
from asfound.measure.sheet.side import side_panels
from asfound.measure.sheet.stations import Stations, stations
from asfound.measure.sheet.tape import TapeMeasurements
from asfound.measure.sheet.winged import winged_side_panels

_SECTIONS = {
    "front": ("front wing", "bonnet", "radiator", "front valance", "scuttle"),
    "rear": ("rear wing", "rear quarter", "boot", "bed", "load", "tail", "left load", "right load"),
}
_FINEST = 0.012  # hundredths of the wheelbase: 0.3 mm at 2.5 m


def unfolded_sheet(
    form: BodyForm, measurements: TapeMeasurements, *, separate_wings: bool
) -> tuple[SheetPanel, ...]:
    """Panels of a car to scale, each with its place on a sheet that reads as the opened car.

    Parameters
    ----------
    form : BodyForm
    measurements : TapeMeasurements
        Lengths that were not taken follow usual proportions; ``complete`` names them.
    separate_wings : bool
        Whether the wings are panels of their own, with a running board between them.

    Returns
    -------
    tuple of SheetPanel
        Nose, top panels from front to rear, tail, left side, right side.

    Raises
    ------
    InputError
        If the lengths contradict each other.

    Notes
    -----
    The sheet is the skin of the car opened at the roof's edges, seen from outside everywhere: nose
    to the left; the top along the middle, y = 0; the left side upright below it; the right side
    turned by half a turn above it, so that the two mirror each other across the middle. Along x
    the side panels stand where they stand on the car: the nose at 0, the hubs a wheelbase apart,
    the tail at the overall length. Outlines are flat projections; a crowned panel has a little
    more skin. Small features (shut lines, corners) scale with the wheelbase. The lines are generic
    and a sheet is a map to take readings on, not a template to cut metal by.

    Examples
    --------
    >>> tape = TapeMeasurements(wheelbase_mm=2500, length_mm=4200, width_mm=1600, height_mm=1400)
    >>> sheet = unfolded_sheet(BodyForm.SALOON, tape, separate_wings=False)
    >>> [p.panel for p in sheet if p.view == "top"]
    ['bonnet', 'scuttle', 'roof', 'boot lid']
    """
    lengths = complete(form, measurements, separate_wings=separate_wings)
    at = stations(form, lengths, separate_wings=separate_wings)
    side = winged_side_panels(at) if separate_wings else side_panels(at)
    return (
        *(_end(name, shape, at, "front") for name, shape in _fine(front_panels(at), at)),
        *(_top(name, shape) for name, shape in _fine(plan_panels(at), at)),
        *(_end(name, shape, at, "rear") for name, shape in _fine(rear_panels(at), at)),
        *(_left(name, shape, at) for name, shape in _fine(side, at)),
        *(_right(name, shape, at) for name, shape in _fine(side, at)),
    )


def _fine(panels: dict[str, Polygon], at: Stations) -> list[tuple[str, Polygon]]:
    """Panels with the points left out that nobody could see."""
    return [
        (name, largest(shape.simplify(_FINEST * at.unit), name)) for name, shape in panels.items()
    ]


def _section(name: str) -> str:
    return next(
        (section for section, starts in _SECTIONS.items() if name.startswith(starts)), "middle"
    )


def _roof_edge(at: Stations) -> float:
    """Distance of the line along which the sides are folded out from the middle of the sheet."""
    return at.lengths.width / 2 + 2 * at.unit


def _top(name: str, shape: Polygon) -> SheetPanel:
    x, y, _, _ = shape.bounds
    return SheetPanel(
        panel=name,
        section=_section(name),
        view="top",
        outline=affinity.translate(shape, -x, -y),
        placement=(x, y, 0.0, False),
    )


def _left(name: str, shape: Polygon, at: Stations) -> SheetPanel:
    x, _, _, top = shape.bounds
    return SheetPanel(
        panel=f"left {name}",
        section=_section(name),
        view="left",
        outline=affinity.affine_transform(shape, [1, 0, 0, -1, -x, top]),
        placement=(x, _roof_edge(at) + at.lengths.height - top, 0.0, False),
    )


def _right(name: str, shape: Polygon, at: Stations) -> SheetPanel:
    _, _, x, top = shape.bounds
    return SheetPanel(
        panel=f"right {name}",
        section=_section(name),
        view="right",
        outline=affinity.affine_transform(shape, [-1, 0, 0, -1, x, top]),
        placement=(x, -_roof_edge(at) - at.lengths.height + top, 180.0, False),
    )


def _end(name: str, shape: Polygon, at: Stations, view: str) -> SheetPanel:
    x, _, _, top = shape.bounds
    space = 2.5 * at.unit
    place = (at.bonnet_front - space, x, 90.0, False)
    if view == "rear":
        place = (at.boot_rear + space, -x, 270.0, False)
    return SheetPanel(
        panel=name,
        section=view,
        view=view,
        outline=affinity.affine_transform(shape, [1, 0, 0, -1, -x, top]),
        placement=place,
    )
