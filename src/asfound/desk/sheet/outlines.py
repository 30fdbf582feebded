"""The outlines of a car's panels: all of them, and one to correct corner by corner."""

from __future__ import annotations

from typing import Any

import shapely
from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import InputError
from asfound.desk.access import open_car_to_write, show
from asfound.desk.sheet.areas import Areas, areas
from asfound.desk.sheet.bench import bench_svg
from asfound.desk.sheet.drawing import drawing_svg
from asfound.record.actions import can_redraw, move_outline
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, FilmReading, Panel


class OutlineForm(forms.Form):
    """An outline as it should be, and why."""

    outline_wkt = forms.CharField(
        label="The outline as text, in the panel's own mm (WKT)",
        widget=forms.Textarea(attrs={"rows": 4, "spellcheck": "false"}),
        max_length=200_000,
    )
    was_wkt = forms.CharField(widget=forms.HiddenInput, max_length=200_000)
    reason = forms.CharField(
        label="Why",
        max_length=400,
        widget=forms.TextInput(
            attrs={"autocomplete": "off", "placeholder": "measured again: rear edge"}
        ),
    )


@login_required
@require_GET
def outlines(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of all outlines with their areas; each leads to its own page."""
    car = open_car_to_write(request, slug)
    drawn = list(car.panels.all())
    sheet = drawing_svg(folder_of(car), links=lambda name: reverse("outline", args=(slug, name)))
    return show(
        request,
        "sheet/outlines.html",
        car=car,
        room="survey",
        sheet=sheet if drawn else "",
        areas=_areas(drawn),
        may_redraw=can_redraw(car),
    )


def _areas(drawn: list[Panel]) -> Areas:
    return areas((p.panel, p.view, _shape(p).area / 1e6) for p in drawn)


@login_required
@require_http_methods(["GET", "POST"])
def outline(request: HttpRequest, slug: str, panel: str) -> HttpResponse:
    """Page on which one outline is corrected."""
    car = open_car_to_write(request, slug)
    drawn = get_object_or_404(Panel, car=car, panel=panel)
    wkt = drawn.outline_wkt
    form = OutlineForm(request.POST or None, initial={"outline_wkt": wkt, "was_wkt": wkt})
    if form.is_valid():
        try:
            move_outline(panel=drawn, by=request.user, **form.cleaned_data)
        except InputError as error:
            form.add_error(None, f"The {error.field} is {error.got}; it must be {error.allowed}.")
            form.add_error(None, error.remedy)
        else:
            _tell(request, car, drawn)
            return redirect("outlines", slug)
    return show(
        request,
        "sheet/outline.html",
        status=422 if form.errors else 200,
        car=car,
        room="survey",
        panel=drawn,
        form=form,
        **_figure(car, drawn),
    )


def _shape(panel: Panel) -> shapely.Polygon:
    shape = shapely.from_wkt(panel.outline_wkt)
    assert isinstance(shape, shapely.Polygon), "outlines are checked before they are stored"
    return shape


def _figure(car: Car, panel: Panel) -> dict[str, Any]:
    shape = _shape(panel)
    return {
        "area_m2": shape.area / 1e6,
        "bench": bench_svg(panel.panel, shape, _spots(car, panel)),
    }


def _tell(request: HttpRequest, car: Car, panel: Panel) -> None:
    """What was done, and whether readings lie off the panel now."""
    shape = _shape(panel)
    messages.success(
        request,
        f"The outline of {panel.panel} is corrected: {shape.area / 1e6:.2f} m². "
        "The old one is kept in the log.",
    )
    off_n = sum(not shape.covers(shapely.Point(place)) for place in _spots(car, panel))
    if off_n:
        messages.warning(
            request,
            f"{off_n} of its places with readings lie off the panel now. "
            "Correct those readings, or the outline once more.",
        )


def _spots(car: Car, panel: Panel) -> list[tuple[float, float]]:
    counting = FilmReading.objects.current().filter(car=car, panel=panel.panel)
    return list(counting.values_list("x_mm", "y_mm").distinct().order_by("x_mm", "y_mm"))
