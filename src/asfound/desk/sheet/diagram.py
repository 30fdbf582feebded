"""Where to hold the tape: the car as it would be drawn, with every length lettered."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from asfound.base import InputError
from asfound.desk.sheet.lengths import LENGTHS
from asfound.dossier.figures.svg import Node, node, number, path, render, svg_root
from asfound.measure.sheet import BodyForm, TapeMeasurements, complete, unfolded_sheet
from asfound.measure.sheet.stations import Stations, stations

_WIDTH, _LEFT, _RIGHT = 360.0, 10.0, 34.0
_BADGE = 9.0
_LETTERS = {length.name: length.letter for length in LENGTHS}


def diagram_svg(form: BodyForm, taken: dict[str, float], *, separate_wings: bool) -> str:
    """Drawing of the car from the side and from above with its lettered lengths.

    Where the lengths that are there do not make a car yet, a car of usual size is drawn.
    """
    try:
        return render(_draw(form, TapeMeasurements(**taken), separate_wings=separate_wings))
    except (InputError, TypeError):  # TypeError: a needed length is missing
        return render(_draw(form, _usual(form), separate_wings=separate_wings))


def _usual(form: BodyForm) -> TapeMeasurements:
    height_mm = {BodyForm.VAN: 1900.0, BodyForm.PICK_UP: 1650.0}.get(form, 1400.0)
    return TapeMeasurements(
        wheelbase_mm=2400,
        length_mm=3900,
        width_mm=1500,
        height_mm=height_mm if form.closed else 1000,
    )


def _draw(form: BodyForm, tape: TapeMeasurements, *, separate_wings: bool) -> Node:
    lengths = complete(form, tape, separate_wings=separate_wings)
    at = stations(form, lengths, separate_wings=separate_wings)
    panels = unfolded_sheet(form, tape, separate_wings=separate_wings)
    scale = (_WIDTH - _LEFT - _RIGHT) / lengths.length
    side = _View(scale=scale, top=14 + lengths.height * scale, assumed=lengths.assumed)
    plan_top = side.top + 62 + lengths.width * scale / 2
    plan = _View(scale=scale, top=plan_top, assumed=lengths.assumed)
    fold_mm = lengths.width / 2 + 2 * at.unit + lengths.height
    root = svg_root(
        f"Where to hold the tape on a car of the form {form.value}",
        width=_WIDTH,
        height=plan_top + lengths.width * scale / 2 + 14,
        class_="tape-diagram",
    )
    for panel in panels:
        if panel.view == "left":
            root.add(side.outline(panel.on_sheet, drop_mm=fold_mm))
        elif panel.view == "top":
            root.add(plan.outline(panel.on_sheet, drop_mm=0))
    root.add(*_side_lines(side, at), *_plan_lines(plan, at))
    return root


def _side_lines(view: _View, at: Stations) -> list[Node]:
    long, end = at.lengths, at.lengths.length
    ground = node("path", d=f"M4 {number(view.top)}H{number(_WIDTH - 4)}", class_="ground")
    hubs = [view.wheel(hub, long.wheel) for hub in (at.hub_front, at.hub_rear)]
    door_z = at.sill_top + 0.55 * (at.waist - at.sill_top)
    lines = [
        view.across("front_overhang_mm", 0, at.hub_front, below=16),
        view.across("wheelbase_mm", at.hub_front, at.hub_rear, below=16),
        view.across("rear_overhang_mm", at.hub_rear, end, below=16),
        view.across("length_mm", 0, end, below=38),
        view.upright("height_mm", end, 0, long.height, aside=16),
        view.across("front_door_mm", at.door_front, at.pillar, below=-door_z * view.scale),
        view.upright("wheel_mm", at.hub_rear, 0, long.wheel),
        view.upright("sill_mm", 0.35 * at.hub_rear + 0.65 * at.hub_front, 0, long.sill, badge=13),
    ]
    if at.form.rear_doors:
        lines.append(
            view.across("rear_door_mm", at.pillar, at.door_end, below=-door_z * view.scale)
        )
    if at.form.closed:
        glass_x = 0.4 * at.door_front + 0.6 * at.pillar
        lines.append(view.upright("glass_mm", glass_x, at.waist, at.gutter - at.rail))
    return [*hubs, ground, *(line for pair in lines for line in pair)]


def _plan_lines(view: _View, at: Stations) -> list[Node]:
    long = at.lengths
    half, bonnet = long.width / 2, long.bonnet_width / 2
    body = node(
        "rect",
        x=view.x(0),
        y=view.y(half),
        width=long.length * view.scale,
        height=long.width * view.scale,
        rx=0.14 * long.width * view.scale,
        class_="body",
    )
    edge = at.bonnet_rear - 0.07 * long.length
    lines = [
        view.upright("width_mm", long.length, -half, half, aside=16),
        view.across("bonnet_mm", at.bonnet_front, at.bonnet_rear, below=0, share=0.35),
        view.upright("bonnet_width_mm", edge, -bonnet, bonnet, share=0.2),
    ]
    if at.form.boot_lid or at.form.load_bed:
        lines.append(view.across("boot_mm", at.boot_front, at.boot_rear, below=0))
    return [body, *(line for pair in lines for line in pair)]


@dataclass(frozen=True, slots=True, kw_only=True)
class _View:
    """One view of the car on the drawing; ``top`` is where its zero height lies."""

    scale: float
    top: float
    assumed: tuple[str, ...]

    def x(self, along_mm: float) -> float:
        return _LEFT + along_mm * self.scale

    def y(self, up_mm: float) -> float:
        return self.top - up_mm * self.scale

    def outline(self, shape: Polygon, *, drop_mm: float) -> Node:
        """Outline from sheet mm, whose y runs down from ``drop_mm`` above the zero height."""
        points = np.asarray(shape.exterior.coords, float)
        on_page = (points - (0.0, drop_mm)) * self.scale + (_LEFT, self.top)
        return node("path", d=path([on_page], closed=True), class_="skin")

    def wheel(self, hub_mm: float, diameter_mm: float) -> Node:
        radius = diameter_mm / 2
        return node(
            "circle", cx=self.x(hub_mm), cy=self.y(radius), r=radius * self.scale, class_="wheel"
        )

    def across(
        self, name: str, start_mm: float, end_mm: float, *, below: float, share: float = 0.5
    ) -> tuple[Node, ...]:
        y, x0, x1 = self.top + below, self.x(start_mm), self.x(end_mm)
        line = f"M{number(x0)} {number(y)}H{number(x1)}"
        ends = "".join(f"M{number(x)} {number(y - 4)}v8" for x in (x0, x1))
        return self._lettered(name, line + ends, x0 + share * (x1 - x0), y)

    def upright(
        self,
        name: str,
        at_mm: float,
        low_mm: float,
        high_mm: float,
        *,
        aside: float = 0,
        share: float = 0.5,
        badge: float = 0,
    ) -> tuple[Node, ...]:
        x, y0, y1 = self.x(at_mm) + aside, self.y(low_mm), self.y(high_mm)
        line = f"M{number(x)} {number(y0)}V{number(y1)}"
        ends = "".join(f"M{number(x - 4)} {number(y)}h8" for y in (y0, y1))
        return self._lettered(name, line + ends, x + badge, y0 + share * (y1 - y0))

    def _lettered(self, name: str, line: str, x: float, y: float) -> tuple[Node, ...]:
        kind = "length assumed" if name in self.assumed else "length"
        return (
            node("path", d=line, class_=kind),
            node("circle", cx=x, cy=y, r=_BADGE, class_="badge"),
            node("text", _LETTERS[name], x=x, y=y + 4, class_="letter", text_anchor="middle"),
        )
