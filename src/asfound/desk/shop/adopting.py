"""Looking at a new plan beside the one that people act on, and adopting it."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_GET, require_POST

from asfound.base import InputError
from asfound.desk.access import person_of, refuse_readers, show
from asfound.desk.shop.asked import NEW, asked_of, bars_of
from asfound.desk.shop.making import forget_made, made_now
from asfound.desk.shop.setbacks import causes_since_adopted
from asfound.record.actions.shop_plan import adopt_plan
from asfound.record.models import ShopPlan
from asfound.record.reads.shop_plan import adopted_plan
from asfound.record.results.plan_moves import moves_between
from asfound.record.results.shop_plan import PlannedShop
from asfound.record.shop_made import shop_inputs


@login_required
@require_GET
def compare(request: HttpRequest) -> HttpResponse:
    """What the new plan moves, and what the promises do."""
    refuse_readers(request)
    made, last = made_now(), adopted_plan()
    if made is None:
        return redirect("shop")
    before = PlannedShop.from_json(last.content) if last else None
    person = person_of(request)
    return show(
        request,
        "shop/compare.html",
        shop=made.shop,
        adopted=last,
        moves=moves_between(before, made.shop),
        causes=causes_since_adopted(),
        inputs=made.inputs_sha256,
        is_old=made.inputs_sha256 != shop_inputs(with_past=made.with_past),
        is_head=person is not None and person.is_head,
        **bars_of(request, made.shop, asked_of(request.GET, plan=NEW)),
    )


@login_required
@require_POST
def adopt(request: HttpRequest) -> HttpResponse:
    """Let everybody act on the new plan."""
    refuse_readers(request)
    made = made_now()
    if made is None or made.inputs_sha256 != request.POST.get("inputs"):
        messages.error(request, "Another plan was made meanwhile. Look at it, and adopt it then.")
        return redirect("shop-compare")
    follows = ShopPlan.objects.filter(pk=made.follows).first() if made.follows else None
    try:
        adopt_plan(
            shop=made.shop,
            inputs_sha256=made.inputs_sha256,
            by=request.user,
            follows=follows,
            because=request.POST.get("because", "")[:400],
        )
    except InputError as error:
        messages.error(request, f"Not adopted: {error.got}. {error.remedy}")
        return redirect("shop")
    forget_made()
    messages.success(request, "Adopted. Cards, wall and calendars follow it from now.")
    return redirect("shop")


@login_required
@require_POST
def refuse(request: HttpRequest) -> HttpResponse:
    """Put the new plan away; the adopted one stands."""
    refuse_readers(request)
    forget_made()
    messages.info(request, "Put away; the adopted plan stands as it was.")
    return redirect("shop")


@login_required
@require_POST
def back_to(request: HttpRequest, pk: int) -> HttpResponse:
    """Adopt an older plan once more."""
    refuse_readers(request)
    old = get_object_or_404(ShopPlan, pk=pk)
    adopt_plan(
        shop=PlannedShop.from_json(old.content),
        inputs_sha256=old.inputs_sha256,
        by=request.user,
        follows=adopted_plan(),
        because=f"back to the plan of {old.adopted_at:%Y-%m-%d %H:%M}",
    )
    messages.success(request, "The older plan counts again; the one between stays readable.")
    return redirect("shop")
