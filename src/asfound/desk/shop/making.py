"""Making a new plan: work in the background, shown as it goes, stoppable."""

from __future__ import annotations

import secrets
from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import refuse_readers, show
from asfound.record.background import begin, standing, stop
from asfound.record.background.works import plan_shop
from asfound.record.shop_made import SHOP_ASKED, SHOP_MADE, MadePlan, shop_inputs


@login_required
@require_http_methods(["GET", "POST"])
def making(request: HttpRequest) -> HttpResponse:
    """How far the plan is, or where to look at it; a POST begins or stops it."""
    refuse_readers(request)
    if request.method == "POST":
        if request.POST.get("step") == "stop":
            stop(_asked())
        elif not standing(_asked()).is_under_way:
            begin_anew(with_past=request.POST.get("past") != "no")
    if not getattr(request, "htmx", False):
        return redirect("shop")
    return show(request, "shop/_making.html", **state())


def state() -> dict[str, Any]:
    """What is known of the new plan: how the work on it stands, and whether it waits."""
    making, made = standing(_asked()), made_now()
    if made is None or making.is_under_way:
        return {"making": making}
    is_old = made.inputs_sha256 != shop_inputs(with_past=made.with_past)
    return {"making": making, "made": made, "is_old": is_old}


def made_now() -> MadePlan | None:
    """New plan that waits to be looked at."""
    found: MadePlan | None = cache.get(SHOP_MADE)
    return found


def forget_made() -> None:
    """The plan was adopted or is not wanted."""
    cache.delete_many([SHOP_MADE, SHOP_ASKED])


def begin_anew(*, with_past: bool = True) -> None:
    """Ask for a plan from now on; one that is being made is given up for it."""
    stop(_asked())
    key = f"plan-of-shop:{secrets.token_hex(8)}"  # the hour counts: it is never the same work
    cache.delete(SHOP_MADE)
    cache.set(SHOP_ASKED, key)
    begin(plan_shop, key=key, past=with_past)


def _asked() -> str:
    return str(cache.get(SHOP_ASKED, "plan-of-shop:none"))
