"""One statement: what it says, what leaving it out changes, and how the workshop stands to it."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.base import AsfoundError, InputError
from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.history.lines import KINDS, StatementLine, changes, statements
from asfound.desk.observed.standing import TOLD, StandingForm
from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.convert.stored import folder_of
from asfound.record.derived import history_reading
from asfound.record.folder import CarFolder
from asfound.record.models import Car


@login_required
@require_http_methods(["GET", "POST"])
def statement(request: HttpRequest, slug: str, kind: str, name: str) -> HttpResponse:
    """Page of a statement; its standing is kept with a reason."""
    car = open_car(request, slug)
    folder = folder_of(car)
    line = statements(folder).get((kind, name))
    if line is None:
        raise Http404(name)
    if request.method != "POST":
        form = StandingForm(initial={"standing": line.standing, "why": line.why})
        return _page(request, car, folder, line, form)
    refuse_readers(request)
    form = StandingForm(request.POST)
    if not form.is_valid():
        return _page(request, car, folder, line, form, status=422)
    try:
        _keep(request, car, line, form.cleaned_data)
    except InputError as error:
        form.add_error(None, f"{error.remedy} Somebody changed the table meanwhile.")
        return _page(request, car, folder, line, form, status=409)
    messages.success(request, f"Kept: {line.title} {TOLD[form.cleaned_data['standing']]}.")
    return redirect("history", slug=car.slug)


def _keep(request: HttpRequest, car: Car, line: StatementLine, typed: dict[str, str]) -> None:
    table, column = KINDS[line.kind]
    seen = sheet_rows(car, table)
    standing = "" if typed["standing"] == "holds" else typed["standing"]
    rows = [
        {**row, "standing": standing, "standing_why": typed["why"]}
        if row[column] == line.name
        else row
        for row in seen
    ]
    set_sheet(car=car, table=table, rows=rows, by=request.user, seen=seen)


def _page(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    line: StatementLine,
    form: StandingForm,
    *,
    status: int = 200,
) -> HttpResponse:
    context: dict[str, Any] = {"line": line, "form": form}
    if line.counts:
        context |= _effect(folder, line)
    return show(
        request, "history/statement.html", status=status, car=car, room="history", **context
    )


def _effect(folder: CarFolder, line: StatementLine) -> dict[str, Any]:
    """Clashes and windows with the statement and without it."""
    try:
        before = history_reading(folder)
        after = history_reading(folder, without=((line.kind, line.name),))
    except AsfoundError as error:
        return {"refusal": str(error)}
    return {
        "clashes_before": len(before.clashes),
        "clashes_after": len(after.clashes),
        "changes": changes(before, after),
    }
