"""The plan that people act on, the cars in the shop, and plans before it."""

from __future__ import annotations

from datetime import date
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from asfound.base import InputError
from asfound.desk.access import person_of, refuse_readers, show
from asfound.desk.shop.asked import asked_of, bars_of
from asfound.desk.shop.making import state
from asfound.record.actions.shop_plan import set_shop_car
from asfound.record.models import Car, ShopPlan
from asfound.record.reads.holds import held_now
from asfound.record.reads.shop_plan import adopted_plan, shop_cars
from asfound.record.results.shop_plan import PlannedShop

PLANS_A_PAGE = 50


@login_required
@require_GET
def shop(request: HttpRequest) -> HttpResponse:
    """Page of the plan of the shop."""
    refuse_readers(request)
    last, pairs = adopted_plan(), shop_cars()
    return show(
        request,
        "shop/page.html",
        is_head=_is_head(request),
        adopted=last,
        pairs=pairs,
        held=held_now(car for car, place in pairs if place.at_work),
        today=timezone.localdate(),
        **state(),
        **(_told(request, last) if last else {}),
    )


@login_required
@require_GET
def adopted(request: HttpRequest, pk: int) -> HttpResponse:
    """Page of one plan as it was adopted."""
    refuse_readers(request)
    one = get_object_or_404(ShopPlan.objects.select_related("by"), pk=pk)
    last = adopted_plan()
    return show(
        request,
        "shop/adopted.html",
        adopted=one,
        is_last=last is not None and last.pk == one.pk,
        is_head=_is_head(request),
        **_told(request, one, plan=str(pk)),
    )


@login_required
@require_GET
def all_adopted(request: HttpRequest) -> HttpResponse:
    """Plans that were adopted, the newest first."""
    refuse_readers(request)
    plans = ShopPlan.objects.select_related("by").defer("content")
    page = Paginator(plans, PLANS_A_PAGE).get_page(request.GET.get("page"))
    return show(request, "shop/all_adopted.html", page=page, query="")


@login_required
@require_POST
def keep_car(request: HttpRequest, slug: str) -> HttpResponse:
    """Priority, promised day, and whether the car is at work."""
    refuse_readers(request)
    car = get_object_or_404(Car, slug=slug)
    try:
        set_shop_car(
            car=car,
            priority=_number(request.POST.get("priority", "")),
            promised=_day(request.POST.get("promised", "")),
            at_work="at_work" in request.POST,
            today=timezone.localdate(),
            by=request.user,
        )
    except InputError as error:
        told = f"{error.field} is {error.got}; it must be {error.allowed}. {error.remedy}"
        messages.error(request, f"{car}: {told} Nothing was kept.")
    else:
        messages.success(request, f"Kept: {car}.")
    return redirect("shop")


def _told(request: HttpRequest, one: ShopPlan, *, plan: str = "") -> dict[str, Any]:
    planned = PlannedShop.from_json(one.content)
    return {"shop": planned, **bars_of(request, planned, asked_of(request.GET, plan=plan))}


def _is_head(request: HttpRequest) -> bool:
    person = person_of(request)
    return person is not None and person.is_head


def _number(text: str) -> float:
    try:
        return float(text.strip().replace(",", "."))
    except ValueError:
        raise InputError(
            field="priority", got=text or "empty", allowed="a number above 0, at most 1000"
        ) from None


def _day(text: str) -> date | None:
    if not text.strip():
        return None
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise InputError(
            field="promised day", got=text, allowed="a day such as 2026-03-02, or empty"
        ) from None
