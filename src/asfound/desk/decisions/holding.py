"""Which decisions hold within the doubt: work in the background, shown as it goes, stoppable."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car, show
from asfound.desk.beside import attend
from asfound.record.background import standing
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
    attend(request, try_decisions, key=doubt_key(folder, draws=DRAWS), car=slug, draws=DRAWS)
    if not getattr(request, "htmx", False):
        return redirect("decisions", slug)
    return show(request, "decisions/_holding.html", car=car, **state_of(folder))


def state_of(folder: CarFolder) -> dict[str, Any]:
    """What is known of the draws: their result, or how the work on them stands."""
    key = doubt_key(folder, draws=DRAWS)
    result = cache.get(key)
    if result is not None:
        loose = [d for d in result.decisions if not d.is_firm]
        return {"held": result, "loose": loose, "firm_n": len(result.decisions) - len(loose)}
    return {"trial": standing(key), "draws_n": DRAWS}
