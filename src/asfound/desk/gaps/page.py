"""The gaps of a car: every edge, every pair of twins, and beginning an edge."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_POST

from asfound.base import AsfoundError
from asfound.desk.access import open_car, open_car_to_write, show
from asfound.desk.gaps.forms import EdgeForm
from asfound.desk.gaps.lines import edge_lines, twin_line
from asfound.dossier.figures import edge_svg
from asfound.measure.gaps import GapResult
from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.convert.stored import folder_of
from asfound.record.derived import gaps_reading
from asfound.record.folder import CarFolder
from asfound.record.models import Car


@login_required
@require_GET
def gaps(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the gaps."""
    car = open_car(request, slug)
    folder = folder_of(car)
    return _page(request, car, folder, EdgeForm(folder=folder))


@login_required
@require_POST
def begin(request: HttpRequest, slug: str) -> HttpResponse:
    """Name an edge, with its twin if that is there, and go to read it."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    form = EdgeForm(request.POST, folder=folder)
    if not form.is_valid():
        return _page(request, car, folder, form, status=422)
    if form.rows:
        seen = sheet_rows(car, "edges")
        set_sheet(car=car, table="edges", rows=form.rows, by=request.user, seen=seen)
    return redirect(f"{reverse('edge', args=(slug, form.cleaned_data['edge']))}#entry")


def _page(
    request: HttpRequest, car: Car, folder: CarFolder, form: EdgeForm, *, status: int = 200
) -> HttpResponse:
    context: dict[str, Any] = {"form": form, "readings_n": len(folder.sheet("gaps"))}
    try:
        result = gaps_reading(folder)
    except AsfoundError as error:
        context["refusal"] = str(error)
    else:
        context |= {"edges": edge_lines(result), "pictures": pictures(result)}
    return show(request, "gaps/page.html", status=status, car=car, room="survey", **context)


def pictures(result: GapResult) -> list[dict[str, Any]]:
    """Every pair of twins with its picture and words, then every other edge that was read."""
    paired = {name for t in result.twins for name in (t.left, t.right)}
    found: list[dict[str, Any]] = [
        {"edge": t.left, "title": f"{t.left} and {t.right}", "twins": twin_line(t)}
        for t in result.twins
    ]
    found += [
        {"edge": e.ground.edge, "title": e.ground.edge}
        for e in result.edges
        if e.ground.edge not in paired and e.readings
    ]
    return [{**one, "figure": picture(result, one["edge"])} for one in found]


def picture(result: GapResult, edge: str) -> str:
    """Picture of an edge and its twin; empty where neither was read."""
    try:
        return edge_svg(result, edge)
    except AsfoundError:
        return ""
