"""Fragments that are worked out beside the pages: they wait, tell how far it is, can be stopped."""

from __future__ import annotations

from typing import Any

from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django_tasks.base import Task

from asfound.desk.access import refuse_readers, show
from asfound.record.background import ask, is_anybody_working, standing, stop
from asfound.record.models import Car


def waiting_for(
    request: HttpRequest, work: Task[Any, Any], car: Car, *, key: str, what: str, **more: Any
) -> HttpResponse | None:
    """Fragment that asks again by itself; none where the result is there or is made here.

    Parameters
    ----------
    key : str
        Where the result is kept in the cache.
    what : str
        The work in words, as in ``"Looking for the shortest plan"``.

    Notes
    -----
    Where no worker lives, the answer itself does the work.
    """
    if not getattr(request, "htmx", False) or cache.get(key) is not None:
        return None
    asked = standing(key)
    if asked.state == "refused" or not (is_anybody_working() or asked.state == "ended"):
        return None
    step = request.POST.get("step")
    if step:
        refuse_readers(request)
    if step == "stop":
        stop(key)
    elif asked.state == "none" or step == "again":
        ask(work, key=key, car=car.slug, **more)
    return show(
        request,
        "parts/waiting.html",
        car=car,
        what=what,
        asked=standing(key),
        address=request.get_full_path(),
    )
