"""When the decision on a piece turns: looked for behind its page, shown when found, stoppable."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.desk import background
from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.decisions.piece import find_piece
from asfound.record.background.works import find_turning
from asfound.record.convert.stored import folder_of
from asfound.record.derived import turning_key


@login_required
@require_http_methods(["GET", "POST"])
def turns(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """When the decision turns, or how far the search is; a POST stops it or begins it again."""
    car = open_car(request, slug)
    folder = folder_of(car)
    find_piece(folder, subject)
    key = turning_key(folder, subject)
    if request.method == "POST":
        refuse_readers(request)
        if request.POST.get("step") == "stop":
            background.stop(key)
        else:
            _begin(key, slug, subject)
    elif not background.ended(key):
        _begin(key, slug, subject)
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('piece', args=(slug, subject))}?whole=1")
    context = {"car": car, "subject": subject, **_state(key)}
    return show(request, "decisions/_piece_turns.html", **context)


def _begin(key: str, slug: str, subject: str) -> None:
    if cache.get(key) is None and not background.runs(key):
        background.begin(key, find_turning, car=slug, subject=subject)


def _state(key: str) -> dict[str, Any]:
    found = cache.get(key)
    if found is not None:
        return {"turning": found}
    if background.runs(key):
        return {"running": True, "done": background.done(key)}
    return {"ended": background.ended(key) or "The search was cut off; begin it again."}
