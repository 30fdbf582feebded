"""The script by which a browser shows kept cards when there is no network."""

from __future__ import annotations

from pathlib import Path

from django.contrib.staticfiles import finders
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET


@require_GET
def worker(request: HttpRequest) -> HttpResponse:
    """Script that may answer for every page of the desk, wherever its own file lies."""
    found = finders.find("desk/unsent/worker.js")
    answer = HttpResponse(Path(str(found)).read_bytes(), content_type="text/javascript")
    answer["Service-Worker-Allowed"] = "/"
    answer["Cache-Control"] = "no-cache"
    return answer
