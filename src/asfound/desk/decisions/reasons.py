"""The reasons that a large car had no time for: asked behind the page, kept as they come."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car, show
from asfound.desk.beside import attend
from asfound.record.background import standing
from asfound.record.background.works import find_reasons
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, reasons_key
from asfound.record.folder import CarFolder


@login_required
@require_http_methods(["GET", "POST"])
def reasons(request: HttpRequest, slug: str) -> HttpResponse:
    """How many reasons are exact, and how far the rest is; a POST begins or stops them."""
    car = open_car(request, slug)
    folder = folder_of(car)
    attend(request, find_reasons, key=_work_key(folder), car=slug)
    if not getattr(request, "htmx", False):
        return redirect("decisions", slug)
    return show(request, "decisions/_reasons.html", car=car, **reasons_state(folder))


def reasons_state(folder: CarFolder) -> dict[str, Any]:
    """How many prices are exact, and how the work on the rest stands."""
    whys = choice_result(folder).whys
    return {
        "whys_n": len(whys),
        "exact_n": sum(why.proved for why in whys),
        "asking": standing(_work_key(folder)),
    }


def _work_key(folder: CarFolder) -> str:
    """The reasons are kept one by one as they come, the work on them is one."""
    return f"{reasons_key(folder)}:work"
