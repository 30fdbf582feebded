"""The car unfolded: where each panel lies on the sheet."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from asfound.base import InputError
from asfound.dossier.figures.frame import Frame
from asfound.measure.film import Panel
from asfound.record.convert.film import panels_of
from asfound.record.folder import CarFolder
from asfound.record.placement import Placement, parse_placement

_GAP_MM = 150.0
_GROUP_GAP_MM = 420.0
_VIEWS = ("left", "top", "right", "front", "rear")
_SHEET_RATIO = 1.9
"""Width to height that a sheet laid out here comes near to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedPanel:
    """A panel with its place on the sheet."""

    panel: Panel
    view: str
    placement: Placement

    @property
    def bounds_mm(self) -> tuple[float, float, float, float]:
        """Left, top, right and bottom on the sheet [mm]."""
        frame = Frame(placement=self.placement, scale=1.0)
        left, top, right, bottom = frame.polygon(self.panel.outline).bounds
        return left, top, right, bottom


def unfold(folder: CarFolder) -> tuple[PlacedPanel, ...]:
    """Panels in the places that the table gives; the others are laid out below by view.

    A placement in other words than ours is kept in the record and laid out by view here.
    """
    rows = {row.text("panel"): row for row in folder.sheet("panels")}
    fixed: list[PlacedPanel] = []
    loose: list[PlacedPanel] = []
    for panel in panels_of(folder):
        row = rows.get(panel.panel)
        view = (row.text("view") or row.text("section")) if row else ""
        placement = _readable_placement(row.text("placement")) if row else None
        home = fixed if placement else loose
        home.append(PlacedPanel(panel=panel, view=view, placement=placement or Placement()))
    top = max((p.bounds_mm[3] for p in fixed), default=-_GROUP_GAP_MM) + _GROUP_GAP_MM
    left = min((p.bounds_mm[0] for p in fixed), default=0.0)
    laid = {p.panel.panel: p for p in (*fixed, *_in_rows(loose, left_mm=left, top_mm=top))}
    return tuple(laid[panel.panel] for panel in panels_of(folder))


def fitted(
    placed: tuple[PlacedPanel, ...], *, width: float, height: float, slack: float
) -> tuple[tuple[Frame, ...], int, int]:
    """Frame of each panel, width and height; all panels as large as the room allows.

    Parameters
    ----------
    placed : tuple of PlacedPanel
        One at least.
    width, height : float
        The most that the drawing may take [drawing units].
    slack : float
        Clear space along the edges [drawing units].
    """
    boxes = [one.bounds_mm for one in placed]
    left, top = min(box[0] for box in boxes), min(box[1] for box in boxes)
    wide_mm = max(box[2] for box in boxes) - left
    tall_mm = max(box[3] for box in boxes) - top
    scale = min((width - 2 * slack) / wide_mm, (height - 2 * slack) / tall_mm)
    shift_x, shift_y = slack - left * scale, slack - top * scale
    frames = tuple(
        Frame(placement=one.placement, scale=scale, shift_x=shift_x, shift_y=shift_y)
        for one in placed
    )
    return frames, round(wide_mm * scale + 2 * slack), round(tall_mm * scale + 2 * slack)


def _readable_placement(text: str) -> Placement | None:
    try:
        return parse_placement(text)
    except InputError:
        return None


def _in_rows(panels: list[PlacedPanel], *, left_mm: float, top_mm: float) -> list[PlacedPanel]:
    """Panels in rows like words on a page: views in order, a wider gap between views."""
    rows: list[list[tuple[float, PlacedPanel]]] = [[]]
    at, widest, view = 0.0, _row_width(panels), None
    for placed in sorted(panels, key=lambda p: _rank(p.view)):
        if at and placed.view != view:
            at += _GROUP_GAP_MM - _GAP_MM
        width, _ = _size(placed)
        if at and at + width > widest:
            rows.append([])
            at = 0.0
        rows[-1].append((at, placed))
        at, view = at + width + _GAP_MM, placed.view
    out: list[PlacedPanel] = []
    for row in rows:
        tallest = max((_size(p)[1] for _, p in row), default=0.0)
        out += [_at(p, left_mm + x, top_mm + (tallest - _size(p)[1]) / 2) for x, p in row]
        top_mm += tallest + _GROUP_GAP_MM
    return out


def _row_width(panels: list[PlacedPanel]) -> float:
    sizes = [_size(p) for p in panels]
    area = sum((w + _GAP_MM) * (h + _GROUP_GAP_MM) for w, h in sizes)
    return max([math.sqrt(_SHEET_RATIO * area), *(w for w, _ in sizes)], default=0.0)


def _rank(view: str) -> tuple[int, str]:
    return (_VIEWS.index(view), "") if view in _VIEWS else (len(_VIEWS), view)


def _size(placed: PlacedPanel) -> tuple[float, float]:
    left, top, right, bottom = placed.bounds_mm
    return right - left, bottom - top


def _at(placed: PlacedPanel, x_mm: float, y_mm: float) -> PlacedPanel:
    left, top, _, _ = placed.bounds_mm
    return replace(placed, placement=Placement(dx_mm=x_mm - left, dy_mm=y_mm - top))
