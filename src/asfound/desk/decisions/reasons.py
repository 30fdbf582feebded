"""The reasons that a large car had no time for: asked behind the page, kept as they come."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk import background
from asfound.desk.access import open_car, refuse_readers, show
from asfound.record.background.works import find_reasons
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, reasons_key
from asfound.record.folder import CarFolder

STOPPED = "Stopped; what was found is kept. Load the page again to see it."


@login_required
@require_http_methods(["GET", "POST"])
def reasons(request: HttpRequest, slug: str) -> HttpResponse:
    """How many reasons are exact, and how far the rest is; a POST begins or stops them."""
    car = open_car(request, slug)
    folder = folder_of(car)
    key = f"{reasons_key(folder)}:work"
    if request.method == "POST":
        refuse_readers(request)
        if request.POST.get("step") == "stop":
            background.stop(key)
        elif not background.runs(key):
            background.begin(key, find_reasons, car=slug)
    if not getattr(request, "htmx", False):
        return redirect("decisions", slug)
    return show(request, "decisions/_reasons.html", car=car, **reasons_state(folder))


def reasons_state(folder: CarFolder) -> dict[str, Any]:
    """How many prices are exact, and what is known of the work on the rest."""
    key = f"{reasons_key(folder)}:work"
    whys = choice_result(folder).whys
    return {
        "whys_n": len(whys),
        "exact_n": sum(why.proved for why in whys),
        "asking": background.runs(key),
        "asked": background.done(key),
        "asking_ended": background.ended(key, stopped=STOPPED),
    }
