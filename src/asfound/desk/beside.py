"""Work beside the pages, the one way to it: begun, watched as it goes, stopped, done here."""

from __future__ import annotations

from typing import Any

from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django_tasks.base import Task

from asfound.desk.access import refuse_readers, show
from asfound.record.background import Asked, begin, standing, stop
from asfound.record.models import Car


def attend(
    request: HttpRequest, work: Task[Any, Any], *, key: str, by_itself: bool = False, **given: Any
) -> Asked:
    """Do to the work what the request asks, and tell how it stands then.

    Parameters
    ----------
    work : Task
        Takes ``key`` and what else is given.
    key : str
        Name of the work, best a hash of its inputs: the same key is the same work, which is made
        when something lies in the cache under it.
    by_itself : bool
        Whether the page begins it by being looked at; otherwise somebody presses a button.

    Notes
    -----
    A POST whose ``step`` is ``"stop"`` stops the work, any other POST begins it. Where no worker
    lives, what is begun is over when this returns. ``parts/beside.html`` shows how it stands.
    """
    is_press = request.method == "POST"
    if is_press:
        refuse_readers(request)
    asked = standing(key)
    if is_press and request.POST.get("step") == "stop":
        stop(key)
    elif (is_press or (by_itself and asked.state == "none")) and not (
        asked.is_under_way or is_made(key)
    ):
        begin(work, key=key, **given)
    else:
        return asked
    return standing(key)


def waiting_for(
    request: HttpRequest, work: Task[Any, Any], about: Car, /, *, key: str, what: str, **given: Any
) -> HttpResponse | None:
    """Fragment that asks again by itself until the work is over; none once the page can be made.

    Parameters
    ----------
    about : Car
        The car of the page.
    what : str
        The work in words, as in ``"Looking for the shortest plan"``.
    """
    if not getattr(request, "htmx", False) or is_made(key):
        return None
    asked = attend(request, work, key=key, by_itself=True, **given)
    if is_made(key) or not (asked.is_under_way or asked.state in ("stopped", "failed")):
        return None
    address = request.get_full_path()
    return show(request, "parts/waiting.html", car=about, what=what, asked=asked, address=address)


def is_made(key: str) -> bool:
    """Whether the result is there."""
    return cache.get(key) is not None
