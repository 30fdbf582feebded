"""What a hold does to the promise, worked out beside the pages that name the hold."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.base import AsfoundError
from asfound.desk.access import open_car_to_write, show
from asfound.desk.beside import attend, waiting_for
from asfound.record.background.works import weigh_hold
from asfound.record.convert.holds import HOLDS, hold_of
from asfound.record.models import Car, Observation
from asfound.record.reads.errands import latest_of
from asfound.record.shop_surprise import hold_key, surprise_of_hold


@login_required
@require_http_methods(["GET", "POST"])
def promise(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """The promise without a hold and with it; of one that ended, with it and without.

    With ``change`` in the address, before the last change of the hold and after.
    """
    car = open_car_to_write(request, slug)
    hold = latest_of(get_object_or_404(Observation, car=car, table=HOLDS, pk=pk))
    change = "change" in request.GET
    key = hold_key(hold, change=change)
    if "brief" in request.GET:
        return _brief(request, car, hold, key)
    what = "Working out what it does to the promise"
    given = {"hold": hold.pk, "change": change}
    waiting = waiting_for(request, weigh_hold, car, key=key, what=what, **given)
    if waiting is not None:
        return waiting
    told = {"hold": hold_of(hold.cells), "row": hold, **_worked_out(key, hold, change=change)}
    is_part = getattr(request, "htmx", False)
    name = "holds/_promise.html" if is_part else "holds/promise.html"
    return show(request, name, car=car, room="work", **told)


def _brief(request: HttpRequest, car: Car, hold: Observation, key: str) -> HttpResponse:
    """The same in a line of a list, which says nothing where there is no promise."""
    asked = attend(request, weigh_hold, key=key, by_itself=True, hold=hold.pk)
    told = {"asked": asked, "found": cache.get(key), "address": request.get_full_path()}
    return show(request, "holds/_promise_brief.html", car=car, **told)


def _worked_out(key: str, hold: Observation, *, change: bool) -> dict[str, Any]:
    found = cache.get(key)
    if found is not None:
        return {"found": found}
    try:
        return {"found": surprise_of_hold(hold, now=timezone.localtime(), change=change)}
    except AsfoundError as error:
        return {"refusal": str(error)}


def holds_on(car: Car, *, task: str, subject: str) -> list[Observation]:
    """Open holds that keep a task from being begun, as they are kept."""
    rows = car.observations.current().filter(table=HOLDS)
    return [row for row in rows if hold_of(row.cells).holds(task=task, subject=subject)]
