"""Needs of a car."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.needs.forms import NeedForm
from asfound.desk.observed.files import table_as_file
from asfound.desk.salvage.adding import offers
from asfound.record.actions.need import tell_need
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car
from asfound.record.reads.salvage import needs_of, served

NEEDS_A_PAGE = 50
PARTS_OFFERED = 500


@login_required
@require_GET
def needs(request: HttpRequest, slug: str) -> HttpResponse:
    """Needs of the car, with what is reserved for them."""
    car = open_car_to_write(request, slug)
    page = Paginator(needs_of([car]), NEEDS_A_PAGE).get_page(request.GET.get("page"))
    uses = served(page.object_list)
    lines = [(need, uses.get(need.pk, [])) for need in page.object_list]
    return show(request, "needs/list.html", car=car, room="parts", page=page, lines=lines)


@login_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, slug: str) -> HttpResponse:
    """Form of a need."""
    car = open_car_to_write(request, slug)
    initial = {name: request.GET.get(name, "") for name in ("part", "need")}
    form = NeedForm(request.POST or None, car=car, initial=initial)
    if request.method == "POST" and form.is_valid():
        cells = {**filled(form.cleaned_data["cells"]), "by": request.user.get_username()}
        made = tell_need(car=car, cells=cells, by=request.user, key=form.cleaned_data["key"])
        if made is None:
            messages.info(request, "This need was kept already.")
            return redirect("needs", slug)
        return redirect("need", slug, made.pk)
    return show(
        request,
        "needs/add.html",
        status=422 if form.errors else 200,
        car=car,
        room="parts",
        form=form,
        parts=parts_offered(car),
        **offers(request.user),
    )


@login_required
@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """Needs as the car folder has them."""
    car = open_car_to_write(request, slug)
    return table_as_file(folder_of(car), "needs", f"{slug}-needs.csv")


def filled(cells: dict[str, Any]) -> dict[str, str]:
    """Cells that hold something."""
    return {name: cell for name, cell in cells.items() if cell}


def parts_offered(car: Car) -> list[tuple[str, str]]:
    """Number and name of parts to offer."""
    return list(car.parts.filter(fate="").values_list("part", "name")[:PARTS_OFFERED])
