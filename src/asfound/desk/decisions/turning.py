"""When the decision on a piece turns: looked for behind its page, shown when found, stoppable."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car, show
from asfound.desk.beside import attend
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
    search = attend(request, find_turning, key=key, by_itself=True, car=slug, subject=subject)
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('piece', args=(slug, subject))}?whole=1")
    context = {"subject": subject, "turning": cache.get(key), "search": search}
    return show(request, "decisions/_piece_turns.html", car=car, **context)
