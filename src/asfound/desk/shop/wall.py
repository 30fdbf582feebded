"""The wall screen: today and this week by person, as words or as bars; the promise of each car."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_GET, require_safe

from asfound.desk.access import refuse_readers
from asfound.dossier.figures.bars import Window
from asfound.dossier.figures.shop_bars import shop_svg
from asfound.record.models import PlanAddress
from asfound.record.reads.shop_plan import address_of_key, adopted_shop
from asfound.record.results.shop_plan import PlannedShop, PlannedTask

DAYS = 7
LATER_SHOWN = 4


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """What a person does today, and what begins in the days after."""

    person: str
    today: tuple[PlannedTask, ...]
    later: tuple[PlannedTask, ...]


@login_required
@never_cache
@require_GET
def wall(request: HttpRequest) -> HttpResponse:
    """Wall screen for who is signed in."""
    refuse_readers(request)
    return _screen(request)


@never_cache
@require_safe
def wall_by_key(request: HttpRequest, key: str) -> HttpResponse:
    """Wall screen behind a secret address: a tablet that nobody signs in at."""
    if address_of_key(key, PlanAddress.Kind.WALL) is None:
        raise Http404("no wall screen")
    return _screen(request)


def _screen(request: HttpRequest) -> HttpResponse:
    shop, now = adopted_shop(), timezone.localtime()
    told: dict[str, Any] = {"shop": shop, "now": now, "as_bars": "bars" in request.GET}
    if shop and told["as_bars"]:
        window = Window(zoom="week", first_day=now.date(), from_monday=False)
        told["bars"] = shop_svg(shop, by="person", window=window, now=now.replace(tzinfo=None))
    elif shop:
        told["rows"] = list(rows_of(shop, now.date()))
    template = "shop/_wall.html" if "part" in request.GET else "shop/wall.html"
    return render(request, template, told)


def rows_of(shop: PlannedShop, today: date) -> Iterator[Row]:
    """Each person of the plan with their tasks of today and of the days after."""
    begins = datetime.combine(today, datetime.min.time())
    ends, until = begins + timedelta(days=1), begins + timedelta(days=DAYS)
    for person in shop.people:
        own = [task for task in shop.tasks if person in task.people]
        yield Row(
            person=person,
            today=tuple(t for t in own if t.start < ends and t.end > begins),
            later=tuple(t for t in own if ends <= t.start < until)[:LATER_SHOWN],
        )
