"""Which decisions hold within the doubt: work in the background, shown as it goes, stoppable."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk import background
from asfound.desk.access import open_car, refuse_readers, show
from asfound.record.background.works import try_decisions
from asfound.record.convert.stored import folder_of
from asfound.record.derived import doubt_key
from asfound.record.folder import CarFolder

DRAWS = 200


@login_required
@require_http_methods(["GET", "POST"])
def holding(request: HttpRequest, slug: str) -> HttpResponse:
    """How far the draws are, or what they say; a POST begins or stops them."""
    car = open_car(request, slug)
    folder = folder_of(car)
    key = doubt_key(folder, draws=DRAWS)
    if request.method == "POST":
        refuse_readers(request)
        if request.POST.get("step") == "stop":
            background.stop(key)
        elif cache.get(key) is None and not background.runs(key):
            background.begin(key, try_decisions, car=slug, draws=DRAWS)
    if not getattr(request, "htmx", False):
        return redirect("decisions", slug)
    return show(request, "decisions/_holding.html", car=car, **state_of(folder))


def state_of(folder: CarFolder) -> dict[str, Any]:
    """What is known of the draws: their result, how far they are, why they ended, or nothing."""
    key = doubt_key(folder, draws=DRAWS)
    result = cache.get(key)
    if result is not None:
        loose = [d for d in result.decisions if not d.is_firm]
        return {"held": result, "loose": loose, "firm_n": len(result.decisions) - len(loose)}
    if background.runs(key):
        return {"running": True, "done": background.done(key)}
    return {"ended": background.ended(key), "draws_n": DRAWS}
