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
from asfound.record.convert.stored import folder_of, whole
from asfound.record.derived import turning_key, turning_of
from asfound.record.folder import CarFolder

AT_ONCE_S = 0.4
"""So long a page waits for the answer before it says how far the search is."""


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
            _begin(key, folder, subject)
    elif not background.ended(key):
        _begin(key, folder, subject)
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('piece', args=(slug, subject))}?whole=1")
    context = {"car": car, "subject": subject, **_state(key)}
    return show(request, "decisions/_piece_turns.html", **context)


def _begin(key: str, folder: CarFolder, subject: str) -> None:
    if cache.get(key) is None and not background.runs(key):
        car = whole(folder)
        work = background.begin(key, lambda progress: turning_of(car, subject, progress=progress))
        work.join(AT_ONCE_S)


def _state(key: str) -> dict[str, Any]:
    found = cache.get(key)
    if found is not None:
        return {"turning": found}
    if background.runs(key):
        return {"running": True, "done": background.done(key)}
    return {"ended": background.ended(key) or "The search was cut off; begin it again."}
