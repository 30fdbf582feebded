"""What is out: of one car and over all cars, overdue first."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.errands.lines import errand_lines
from asfound.record.models import Car
from asfound.record.reads import cars_for
from asfound.record.reads.errands import errands_of

ERRANDS_A_PAGE = 50
OUT, BACK = "out", "back"


@login_required
@require_GET
def of_car(request: HttpRequest, slug: str) -> HttpResponse:
    """Errands of one car."""
    car = open_car(request, slug)
    return show(request, "errands/of_car.html", car=car, room="parts", **_told(request, [car]))


@login_required
@require_GET
def of_workshop(request: HttpRequest) -> HttpResponse:
    """Errands of all cars."""
    refuse_readers(request)
    return show(request, "errands/of_workshop.html", **_told(request, cars_for(request.user)))


def _told(request: HttpRequest, cars: QuerySet[Car] | list[Car]) -> dict[str, Any]:
    asked = request.GET.get("show")
    which = BACK if asked == BACK else OUT
    found = errands_of(cars=cars, out=which == OUT)
    page = Paginator(found, ERRANDS_A_PAGE).get_page(request.GET.get("page"))
    lines = errand_lines(page.object_list)
    groups: dict[str, list[Any]] = {}
    for line in lines:
        groups.setdefault(line.group if which == OUT else "Back in the workshop", []).append(line)
    return {
        "page": page,
        "groups": groups.items(),
        "which": which,
        "query": f"show={which}",
        "overdue_n": sum(line.errand.is_overdue for line in lines),
    }
