"""Points set on a photograph become an outline with flaws and nap, in mm."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from django import forms
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from shapely import Polygon
from shapely.affinity import translate

from asfound.base import InputError
from asfound.desk.sheet.trace_form import PointsField
from asfound.dossier.figures import PieceDrawing, salvage_svg
from asfound.measure.sheet import Homography, homography_from_points
from asfound.record.models.salvage_piece import Nap

MOST_FLAWS = 60
_LEAST_TAPED = 4
FLAWS = ("hole", "stain", "worn", "torn", "stitch holes", "faded")
"""Kinds of flaws to offer."""


class SalvageTraceForm(forms.Form):
    """Taped points with their places in mm, the edge, flaws and nap as they were set."""

    taped_px = PointsField(error_messages={"required": "No taped point is set on the photo yet."})
    taped_mm = PointsField(
        error_messages={"required": "The places of the taped points are not given."}
    )
    trace_px = PointsField(error_messages={"required": "The edge of the piece is not traced yet."})
    nap_px = PointsField(required=False)
    flaws_px = forms.CharField(required=False, max_length=200_000, widget=forms.HiddenInput)
    nap = forms.ChoiceField(
        label="nap or grain", required=False, choices=[("", "none, or not known"), *Nap.choices]
    )
    seen = forms.IntegerField(widget=forms.HiddenInput)

    def clean_flaws_px(self) -> list[tuple[str, list[tuple[float, float]]]]:
        """Flaws as kind and points: ``hole:x,y x,y …|stain:…``."""
        groups = [word for word in self.cleaned_data["flaws_px"].split("|") if word.strip()]
        if len(groups) > MOST_FLAWS:
            raise forms.ValidationError(f"{len(groups)} flaws are too many; at most {MOST_FLAWS}.")
        points = PointsField()
        read = []
        for group in groups:
            kind, _, text = group.rpartition(":")
            read.append((kind.strip()[:80] or "flaw", points.clean(text)))
        return read

    def clean(self) -> dict[str, Any]:
        """Points that belong together."""
        cleaned: dict[str, Any] = super().clean() or self.cleaned_data
        taped, places = cleaned.get("taped_px"), cleaned.get("taped_mm")
        if taped is not None and len(taped) < _LEAST_TAPED:
            self.add_error("taped_px", f"{len(taped)} of at least four taped points are set.")
        elif taped and places and len(taped) != len(places):
            self.add_error(
                "taped_mm", f"{len(taped)} points are set and {len(places)} places given in mm."
            )
        if cleaned.get("nap") and len(cleaned.get("nap_px") or ()) != 2:
            self.add_error("nap", "Set two points along the nap: from where it runs, to where.")
        return cleaned


@dataclass(frozen=True, slots=True, kw_only=True)
class TracedPiece:
    """A traced piece in its own mm, and how well its taped points fit."""

    outline: Polygon
    defects: tuple[tuple[str, Polygon], ...]
    nap_deg: float | None
    map: Homography

    @property
    def worst_mm(self) -> float:
        """Greatest distance between a taped point and where the map puts it."""
        return max(self.map.residuals_mm)

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height."""
        return self.outline.bounds[2], self.outline.bounds[3]

    @property
    def area_dm2(self) -> float:
        """Area of the outline."""
        return self.outline.area / 1e4


def traced_of(form: SalvageTraceForm) -> TracedPiece | None:
    """What a valid form traces; ``None`` once the form says why it cannot be."""
    data = form.cleaned_data
    try:
        found = homography_from_points(points_px=data["taped_px"], points_mm=data["taped_mm"])
        outline = _polygon(found, data["trace_px"], "edge")
        x0, y0 = outline.bounds[:2]
        flaws = [(kind, _polygon(found, px, kind)) for kind, px in data["flaws_px"]]
        nap = _direction(found, data["nap_px"]) if data["nap"] else None
    except InputError as error:
        form.add_error(None, f"{error.field}: the points must be {error.allowed}. {error.remedy}")
        return None
    return TracedPiece(
        outline=translate(outline, -x0, -y0),
        defects=tuple((kind, translate(area, -x0, -y0)) for kind, area in flaws),
        nap_deg=nap,
        map=found,
    )


def _polygon(found: Homography, points_px: list[tuple[float, float]], what: str) -> Polygon:
    if len(points_px) < 3:
        raise InputError(field=what, got=len(points_px), allowed="three or more")
    shape = Polygon(found.to_mm(np.array(points_px)))
    if not shape.is_valid or shape.area == 0:
        raise InputError(
            field=what,
            got="a crossed line",
            allowed="a line once around that does not cross itself",
            remedy="Take the last points back and set them again.",
        )
    return shape


def _direction(found: Homography, points_px: list[tuple[float, float]]) -> float:
    (x0, y0), (x1, y1) = found.to_mm(np.array(points_px)).tolist()
    return round(math.degrees(math.atan2(y1 - y0, x1 - x0)), 1)


def drawn(name: str, form: SalvageTraceForm, traced: TracedPiece) -> str:
    """Figure of what was traced."""
    return salvage_svg(
        PieceDrawing(
            key="traced",
            name=name,
            outline=traced.outline,
            defects=[area for _, area in traced.defects],
            nap_deg=traced.nap_deg,
            both_ways=form.cleaned_data["nap"] == Nap.BOTH_WAYS,
        )
    )


def wkt(shape: Polygon) -> str:
    """Outline in tenths of a mm."""
    tenths = Polygon(np.round(shapely.get_coordinates(shape), 1) + 0.0)
    return str(shapely.to_wkt(tenths, rounding_precision=1))


def gone_to(request: HttpRequest, address: str) -> HttpResponse:
    """Answer that leads on, for a fragment too."""
    if getattr(request, "htmx", False):
        answer = HttpResponse()
        answer.headers["HX-Redirect"] = address
        return answer
    return redirect(address)
