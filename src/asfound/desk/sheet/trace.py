"""A panel traced over a photograph: the photograph stays on the device, points are sent."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import open_car_to_write, show
from asfound.desk.sheet.bench import bench_svg
from asfound.desk.sheet.trace_form import TraceForm
from asfound.measure.sheet import Homography, homography_from_points, trace_to_panel
from asfound.record.actions import add_panel, replace_outline
from asfound.record.models import Car
from asfound.record.reads import panels_observed


@dataclass(frozen=True, slots=True, kw_only=True)
class Traced:
    """A traced outline in mm, and how well its taped points fit."""

    outline: shapely.Polygon
    map: Homography

    @property
    def width_mm(self) -> float:
        """Greatest extent across."""
        return float(self.outline.bounds[2] - self.outline.bounds[0])

    @property
    def height_mm(self) -> float:
        """Greatest extent downwards."""
        return float(self.outline.bounds[3] - self.outline.bounds[1])

    @property
    def area_m2(self) -> float:
        """Area of the flat outline."""
        return float(self.outline.area) / 1e6

    @property
    def worst_mm(self) -> float:
        """Greatest distance between a taped point and where the map puts it."""
        return max(self.map.residuals_mm)


@login_required
@require_http_methods(["GET", "POST"])
def trace(request: HttpRequest, slug: str) -> HttpResponse:
    """Page that takes the points; the answer to them is a fragment, so that the photo stays."""
    car = open_car_to_write(request, slug)
    observed = panels_observed(car)
    free = [p.panel for p in car.panels.all() if p.panel not in observed]
    form = TraceForm(request.POST or None, free=free)
    traced = _traced(form) if form.is_valid() else None
    if traced and request.POST.get("step") == "keep" and _keep(request, car, form, traced):
        return _gone_to(request, reverse("outlines", args=(slug,)))
    fragment = bool(getattr(request, "htmx", False))
    return show(
        request,
        "sheet/_traced.html" if fragment else "sheet/trace.html",
        status=422 if form.errors and not fragment else 200,
        car=car,
        room="survey",
        form=form,
        traced=traced,
        bench=bench_svg("the traced panel", traced.outline, ()) if traced else "",
        held=sorted(observed),
    )


def _traced(form: TraceForm) -> Traced | None:
    data = form.cleaned_data
    try:
        found = homography_from_points(points_px=data["taped_px"], points_mm=data["taped_mm"])
        outline = trace_to_panel(np.array(data["trace_px"]), found)
    except InputError as error:
        rule = error.allowed.replace("points_mm", "their places in mm")
        form.add_error(None, f"The points must be {rule}. {error.remedy}")
        return None
    return Traced(outline=outline, map=found)


def _keep(request: HttpRequest, car: Car, form: TraceForm, traced: Traced) -> bool:
    data = form.cleaned_data
    wkt = shapely.to_wkt(traced.outline, rounding_precision=1)
    try:
        if data["replaces"]:
            name = data["replaces"]
            replace_outline(
                panel=car.panels.get(panel=name),
                outline_wkt=wkt,
                reason="traced over a photograph",
                by=request.user,
            )
        else:
            told: dict[str, Any] = {key: data[key] for key in ("section", "substrate", "view")}
            name = data["panel"]
            add_panel(car=car, panel=name, outline_wkt=wkt, by=request.user, **told)
    except InputError as error:
        form.add_error(None, f"{error.field} is {error.got}; it must be {error.allowed}.")
        return False
    messages.success(request, f"{name} is traced: {traced.area_m2:.2f} m².")
    return True


def _gone_to(request: HttpRequest, address: str) -> HttpResponse:
    if getattr(request, "htmx", False):
        answer = HttpResponse()
        answer.headers["HX-Redirect"] = address
        return answer
    return redirect(address)
