"""Pictures of the invented car, drawn when the demo is made, so that the room is not empty."""

from __future__ import annotations

import io
from collections.abc import Iterator

from PIL import Image
from shapely import Polygon
from shapely.affinity import translate

from asfound.demo.bench import bench_drawings
from asfound.demo.days import AS_WRITTEN, Days
from asfound.demo.drawing import Drawing
from asfound.demo.easel import Colour, Easel, as_jpeg, as_seen
from asfound.demo.panels import drawn_panels
from asfound.exchange.photographs import take_in
from asfound.record.actions import change_photo, correct_observation
from asfound.record.convert.photo_marks import Mark, marks_text
from asfound.record.faults import InputFaultsError
from asfound.record.models import Car, Photo

_FENNEL: Colour = (122, 138, 98)
_FENNEL_NEW: Colour = (128, 146, 104)
_GROUND_MM = 3_270.0
"""Where the wheels stand on the unfolded sheet, which is drawn in its own mm."""
_NOTE = "drawn by the program, invented"
_ON_PICTURE = (
    ("wing-before", "rust came through", Mark(kind="ring", points=((0.2, 0.49), (0.36, 0.65)))),
    ("wing-under", "metal thin", Mark(kind="ring", points=((0.4, 0.3), (0.72, 0.68)))),
)
"""Findings that a drawing shows: its name, their kind, the ring around the place."""


def drawings() -> tuple[Drawing, ...]:
    """Pictures before and after, of the car, a panel and some parts."""
    wing = {"left_mm": 640.0, "top_mm": 2_180.0, "width_mm": 1_800.0}
    car = {"left_mm": 560.0, "top_mm": 1_500.0, "width_mm": 4_900.0}
    return (
        Drawing(
            name="left-before",
            subject="car",
            view="left side",
            stage="before",
            taken="2024:03:04 09:12:40",
            draw=lambda: as_seen(_side(**car, tired=True)),
        ),
        Drawing(
            name="wing-before",
            subject="left front wing",
            view="whole",
            stage="before",
            taken="2024:03:04 09:31:05",
            draw=lambda: as_seen(_side(**wing, tired=True)),
            marks=(
                Mark(kind="arrow", points=((0.62, 0.12), (0.73, 0.3)), words="edge of the wing"),
            ),
        ),
        Drawing(
            name="plate",
            subject="chassis plate",
            view="whole",
            stage="before",
            taken="2024:03:04 09:40:12",
            draw=_plate,
        ),
        Drawing(
            name="rail",
            subject="car",
            view="number: chassis",
            stage="before",
            taken="2024:03:04 09:44:51",
            draw=_rail,
        ),
        Drawing(
            name="hinge",
            subject="hinge posts",
            view="fixing places",
            stage="before",
            taken="2024:03:06 14:02:33",
            draw=_hinge,
            marks=(
                Mark(kind="words", points=((0.5, 0.08),), words="shims: two above, none below"),
            ),
        ),
        Drawing(
            name="left-clean",
            subject="car",
            view="left side",
            stage="during",
            taken="2024:04:05 10:20:07",
            draw=lambda: as_seen(_side(**car, tired=False), turned=1.0),
            over="left-before",
        ),
        Drawing(
            name="wing-clean",
            subject="left front wing",
            view="whole",
            stage="during",
            taken="2024:04:05 10:31:44",
            draw=lambda: as_seen(_side(**wing, tired=False), turned=0.8),
            over="wing-before",
        ),
        *bench_drawings(),
    )


def keep_pictures(car: Car, *, days: Days = AS_WRITTEN) -> None:
    """Draw the pictures into the record of the car, as its workshop would send them in."""
    kept: dict[str, Photo] = {}
    for drawing in drawings():
        data = as_jpeg(drawing.draw(), taken=days.text(drawing.taken))
        taken = take_in(
            [(f"{drawing.name}.jpg", io.BytesIO(data))],
            car=car,
            subject=drawing.subject,
            view=drawing.view,
            stage=drawing.stage,
            by=None,
        )
        if taken.faults:
            raise InputFaultsError(taken.faults)
        kept[drawing.name] = change_photo(
            photo=taken.photos[0],
            note=_NOTE,
            marks=marks_text(drawing.marks),
            pair=kept[drawing.over].file if drawing.over else "",
            reason=_NOTE,
            by=None,
        )
    for name, kind, mark in _ON_PICTURE:
        _mark_finding(car, kept[name], kind, mark)


def _mark_finding(car: Car, photo: Photo, kind: str, mark: Mark) -> None:
    """Lay a ring over the drawing of a finding; the drawing itself stays as it is."""
    there = car.observations.current().filter(table="findings", subject=photo.subject)
    found = there.get(cells__kind=kind)
    cells = {"photo": photo.file, "photo_marks": marks_text((mark,))}
    correct_observation(observation=found, cells=cells, reason=_NOTE, by=None)


def _side(*, left_mm: float, top_mm: float, width_mm: float, tired: bool) -> Image.Image:
    """The car's left side, or a piece of it, before a wall."""
    easel = Easel(left_mm=left_mm, top_mm=top_mm, width_mm=width_mm, seed=11)
    far = ((0, 0), (9_000, 0), (9_000, _GROUND_MM), (0, _GROUND_MM))
    easel.shape(far, (176, 170, 158), grain=10)
    near = ((0, _GROUND_MM), (9_000, _GROUND_MM), (9_000, 5_000), (0, 5_000))
    easel.shape(near, (132, 124, 112), grain=13)
    for x in (1_560.0, 4_022.0):
        easel.disc(x, _GROUND_MM - 325, 325, (34, 32, 30))
        easel.disc(x, _GROUND_MM - 325, 190, (150, 146, 136))
    for panel, outline in _left_panels():
        colour = _FENNEL if tired else _FENNEL_NEW
        easel.shape(outline, colour, grain=11 if tired else 9)
        if tired and panel in ("left front wing", "left rear wing", "left sill"):
            low = outline.bounds
            easel.rust(low[0] + 0.2 * (low[2] - low[0]), low[3] - 90, 110)
    easel.signed("Meridel M 1607, left side")
    return easel.image


def _left_panels() -> Iterator[tuple[str, Polygon]]:
    for panel in drawn_panels():
        if panel.section == "left":
            dx, dy, _ = (float(word) for word in panel.placement.split())
            yield panel.panel, translate(panel.outline, dx, dy)


def _plate() -> Image.Image:
    easel = Easel(left_mm=0, top_mm=0, width_mm=150, seed=21)
    easel.shape(((0, 0), (150, 0), (150, 100), (0, 100)), _FENNEL, grain=8)
    easel.shape(((25, 18), (125, 18), (125, 76), (25, 76)), (176, 164, 128), grain=9)
    for x, y, r in ((32, 25, 2.4), (118, 25, 2.4), (32, 69, 2.4), (118, 69, 3.1)):
        easel.disc(x, y, r, (120, 112, 96))
    easel.words("TESSIVANE", 44, 24, 10, (40, 34, 24))
    easel.words("M 1607", 50, 46, 14, (40, 34, 24))
    easel.signed("chassis plate")
    return as_seen(easel.image)


def _rail() -> Image.Image:
    easel = Easel(left_mm=0, top_mm=0, width_mm=240, seed=22)
    easel.shape(((0, 0), (240, 0), (240, 160), (0, 160)), (70, 64, 56), grain=10)
    easel.shape(((0, 40), (240, 36), (240, 110), (0, 114)), (104, 92, 78), grain=12)
    easel.words("M 1607", 70, 52, 28, (44, 36, 28))
    easel.rust(190, 84, 22)
    easel.signed("right rail, below the scuttle")
    return as_seen(easel.image)


def _hinge() -> Image.Image:
    easel = Easel(left_mm=0, top_mm=0, width_mm=360, seed=23)
    easel.shape(((0, 0), (360, 0), (360, 240), (0, 240)), (150, 118, 80), grain=10)
    easel.shape(((110, 30), (250, 30), (250, 200), (110, 200)), _FENNEL, grain=9)
    for y in (54, 92, 138, 176):
        easel.disc(140, y, 9, (98, 92, 82))
        easel.disc(220, y, 9, (98, 92, 82))
    easel.shape(((168, 24), (192, 24), (192, 206), (168, 206)), (92, 86, 78), grain=7)
    easel.signed("left hinge post, upper hinge")
    return as_seen(easel.image)
