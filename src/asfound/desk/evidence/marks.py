"""The numbers check: every mark beside what is expected, as a page and as a sheet to print."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show
from asfound.record.convert.numbers import classes_of, marks_of
from asfound.record.convert.stored import folder_of
from asfound.record.results.numbers import LIMIT


@login_required
@require_GET
def numbers(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the numbers check."""
    car = open_car(request, slug)
    folder = folder_of(car)
    context: dict[str, Any] = {"limit": LIMIT}
    try:
        context |= {"marks": marks_of(folder), "classes": classes_of(folder)}
    except AsfoundError as error:
        context["refusal"] = str(error)
    return show(request, "evidence/numbers.html", car=car, room="evidence", **context)
