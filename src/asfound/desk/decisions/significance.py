"""Why pieces matter: the criteria with their weights, every grade with its reason, every sum."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.base import InputError
from asfound.desk.access import open_car, open_car_to_write, show
from asfound.desk.decisions.piece import find_piece
from asfound.desk.decisions.remembered import set_totals_aside
from asfound.desk.decisions.significance_form import SignificanceForm
from asfound.desk.tables import grid
from asfound.record.actions import set_piece_rows, set_sheet, set_weight, sheet_rows
from asfound.record.convert.significance import Weights
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car
from asfound.weigh.significance import GRADES, SUPPLIED

TABLE = "significance"
PIECES_A_PAGE = 300


@login_required
@require_GET
def significance(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the criteria and of the weight of every piece."""
    car = open_car(request, slug)
    folder = folder_of(car)
    weights = Weights(folder)
    zones = {row.text("subject"): row.text("zone") for row in folder.sheet("subjects")}
    names = dict.fromkeys(row.text("subject") for row in folder.sheet("options"))
    lines = [(name, zones.get(name, ""), weights.of(name)) for name in names]
    lines.sort(key=lambda line: (-line[2].value, line[0]))
    return show(
        request,
        "decisions/significance.html",
        car=car,
        room="decisions",
        criteria=weights.criteria,
        is_supplied=not len(folder.sheet("criteria")),
        grades=GRADES.items(),
        page=Paginator(lines, PIECES_A_PAGE).get_page(request.GET.get("page")),
        graded_n=sum(bool(weight.graded) for _, _, weight in lines),
        typed_n=sum(weight.typed is not None for _, _, weight in lines),
    )


@login_required
@require_POST
def own_criteria(request: HttpRequest, slug: str) -> HttpResponse:
    """Write the criteria supplied into the car's table, so that they can be changed there."""
    car = open_car_to_write(request, slug)
    rows = [
        {
            "criterion": one.name,
            "weight": f"{one.weight:g}",
            "meaning": one.meaning,
            "source": one.source,
        }
        for one in SUPPLIED
    ]
    try:
        set_sheet(car=car, table="criteria", rows=rows, by=request.user, seen=[])
    except InputError as error:
        messages.warning(request, str(error))
    return redirect(f"{reverse('table', args=(slug, 'criteria'))}?back=significance")


@login_required
@require_http_methods(["GET", "POST"])
def grade_piece(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Form in which one piece is graded by every criterion."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    find_piece(folder, subject)
    weights = Weights(folder)
    weight = weights.of(subject)
    form = SignificanceForm(
        request.POST or None, criteria=weights.criteria, graded=weight.graded, typed=weight.typed
    )
    if request.method == "POST" and form.is_valid() and _keep(request, car, subject, form):
        set_totals_aside(request, car)
        messages.success(request, f"The grades of {subject} are kept; the choice follows them.")
        return redirect(f"{reverse('piece', args=(slug, subject))}#matters")
    context: dict[str, Any] = {"subject": subject, "form": form, "weight": weight}
    seen = request.POST.get("seen") or grid.as_seen(_mine(car, subject))
    status = 422 if form.errors else 200
    return show(
        request,
        "decisions/grade_piece.html",
        status=status,
        car=car,
        room="decisions",
        seen=seen,
        **context,
    )


def _mine(car: Car, subject: str) -> list[dict[str, str]]:
    return [row for row in sheet_rows(car, TABLE) if row["subject"] == subject]


def _keep(request: HttpRequest, car: Car, subject: str, form: SignificanceForm) -> bool:
    rows = form.rows(by=request.user.get_username())
    seen = grid.from_seen(request.POST.get("seen", "")) or []
    try:
        set_piece_rows(car=car, table=TABLE, subject=subject, rows=rows, by=request.user, seen=seen)
        weight = form.cleaned_data["weight"]
        set_weight(car=car, subject=subject, weight=weight, by=request.user)
    except InputError as error:
        form.add_error(None, str(error))
        return False
    return True
