"""The plan of the shop to keep: pictures, table, result."""

from __future__ import annotations

import csv
import io

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import refuse_readers
from asfound.desk.observed.files import PICTURES, as_file
from asfound.desk.plan.curve_files import curve_file
from asfound.desk.shop.asked import asked_of, plan_asked, window_of
from asfound.desk.shop.promised import finishes_of
from asfound.dossier.figures.shop_bars import shop_svg
from asfound.dossier.figures.shop_sheets import shop_sheets
from asfound.dossier.pictures import SHEET_RATIO, sheets_as_pdf, svg_as
from asfound.exchange import json_bytes

_HEAD = ("car", "task", "name", "start", "end", "dries_until", "people", "bay", "begun", "critical")


@login_required
@require_GET
def picture(request: HttpRequest, form: str) -> HttpResponse:
    """Bars as a picture with its own colours: of the days shown, or as PDF of all of them."""
    refuse_readers(request)
    asked = asked_of(request.GET)
    shop = plan_asked(asked)
    of = asked.of if asked.of in shop.by_key else None
    if form == "pdf":
        data = sheets_as_pdf(shop_sheets(shop, by=asked.by, of=of, ratio=SHEET_RATIO))
    else:
        svg = shop_svg(shop, by=asked.by, of=of, window=window_of(shop, asked), theme="print")
        data = svg.encode() if form == "svg" else svg_as(svg, "png")
    return as_file(data, PICTURES[form], f"plan-by-{asked.by}.{form}")


@login_required
@require_GET
def curve(request: HttpRequest, slug: str, form: str) -> HttpResponse:
    """Curve of one car's promise as a picture, or its numbers."""
    refuse_readers(request)
    shop = plan_asked(asked_of(request.GET))
    car = next((one for one in shop.cars if one.car == slug), None)
    finishes = finishes_of(shop, car) if car else None
    if finishes is None:
        raise Http404(f"no promise of {slug} in that plan")
    return curve_file(finishes, form, f"{slug}-promise")


@login_required
@require_GET
def table(request: HttpRequest) -> HttpResponse:
    """Tasks as a table."""
    refuse_readers(request)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(_HEAD)
    for task in plan_asked(asked_of(request.GET)).tasks:
        rests = task.rests_until.isoformat(timespec="minutes") if task.rests_until else ""
        times = [at.isoformat(timespec="minutes") for at in (task.start, task.end)]
        flags = ["yes" if flag else "no" for flag in (task.begun, task.critical)]
        row = [task.car, task.task, task.name, *times, rests, ";".join(task.people), task.bay]
        writer.writerow([*row, *flags])
    return as_file(out.getvalue().encode(), "text/csv; charset=utf-8", "plan.csv")


@login_required
@require_GET
def result(request: HttpRequest) -> HttpResponse:
    """The whole plan as it is kept."""
    refuse_readers(request)
    told = plan_asked(asked_of(request.GET)).to_json()
    return as_file(json_bytes(told), "application/json", "plan.json")
