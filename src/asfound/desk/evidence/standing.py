"""One row of evidence, wear, the numbers or the odometer, and how the workshop stands to it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.base import AsfoundError, InputError
from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.evidence.effects import effects
from asfound.desk.evidence.rows import (
    TABLES,
    RowLine,
    folder_with,
    row_lines,
    with_standing,
)
from asfound.desk.observed.standing import TOLD, StandingForm
from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.convert.standing import row_mark
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car


@login_required
@require_http_methods(["GET", "POST"])
def row(request: HttpRequest, slug: str, table: str, mark: str) -> HttpResponse:
    """Page of a row; its standing is kept with a reason."""
    car = open_car(request, slug)
    folder = folder_of(car)
    line = _line(folder, table, mark, slug)
    if request.method != "POST":
        standing = line.row.text("standing") or "holds"
        form = StandingForm(initial={"standing": standing, "why": line.row.text("standing_why")})
        return _page(request, car, folder, line, form)
    refuse_readers(request)
    form = StandingForm(request.POST)
    if not form.is_valid():
        return _page(request, car, folder, line, form, status=422)
    try:
        _keep(request, car, folder, line, form.cleaned_data)
    except InputError as error:
        form.add_error(None, f"{error.remedy} Somebody changed the table meanwhile.")
        return _page(request, car, folder, line, form, status=409)
    except AsfoundError as error:
        form.add_error(None, f"Then the rest could not be weighed: {error}")
        return _page(request, car, folder, line, form, status=422)
    messages.success(request, f"Kept: {line.words} {TOLD[form.cleaned_data['standing']]}.")
    return _back(car, line)


def _line(folder: CarFolder, table: str, mark: str, slug: str) -> RowLine:
    found = row_lines(folder, table, slug) if table in TABLES else []
    for line in found:
        if row_mark(line.row.cells) == mark:
            return line
    raise Http404(mark)


def _keep(
    request: HttpRequest, car: Car, folder: CarFolder, line: RowLine, typed: dict[str, str]
) -> None:
    seen = sheet_rows(car, line.table)
    rows = with_standing(seen, row_mark(line.row.cells), **typed)
    effects(folder, folder_with(folder, line.table, rows))
    set_sheet(car=car, table=line.table, rows=rows, by=request.user, seen=seen)


def _back(car: Car, line: RowLine) -> HttpResponse:
    if line.subject:
        return redirect("evidence-of", slug=car.slug, subject=line.subject)
    return redirect("numbers" if line.table == "identifiers" else "odometer", slug=car.slug)


def _page(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    line: RowLine,
    form: StandingForm,
    *,
    status: int = 200,
) -> HttpResponse:
    context: dict[str, Any] = {"line": line, "form": form, "back": _back(car, line)["Location"]}
    if line.counts:
        rows = [dict(one.cells) for one in folder.sheet(line.table)]
        without = with_standing(
            rows, row_mark(line.row.cells), standing="withdrawn", why="for a look"
        )
        try:
            context["effects"] = effects(folder, folder_with(folder, line.table, without))
        except AsfoundError as error:
            context["refusal"] = str(error)
    return show(request, "evidence/row.html", status=status, car=car, room="evidence", **context)
