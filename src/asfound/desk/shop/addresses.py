"""Secret addresses: calendars and wall screens; made, made anew, withdrawn."""

from __future__ import annotations

from uuid import UUID

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.crypto import salted_hmac
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from asfound.desk.access import show
from asfound.desk.people.door import refuse_all_but_head
from asfound.exchange.calendar import calendar_file
from asfound.record.actions.shop_plan import make_address, withdraw_address
from asfound.record.models import Car, PlanAddress
from asfound.record.reads.shop_plan import address_of_key, adopted_plan, cars_at_work, shop_cars
from asfound.record.results.shop_plan import PlannedShop

ADDRESSES_SHOWN = 200
PERSON, CAR, SHOP, WALL = "person:", "car:", "shop", "wall"


@login_required
@never_cache
@require_http_methods(["GET", "POST"])
def addresses(request: HttpRequest) -> HttpResponse:
    """Addresses that answer; a POST makes one, which is shown this once."""
    refuse_all_but_head(request)
    fresh = ""
    if request.method == "POST":
        fresh = _made(request, request.POST.get("of", ""))
    return show(
        request,
        "shop/addresses.html",
        fresh=fresh,
        choices=_choices(),
        lines=PlanAddress.objects.current().select_related("car", "made_by")[:ADDRESSES_SHOWN],
    )


@login_required
@require_POST
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Let an address answer no more."""
    refuse_all_but_head(request)
    withdraw_address(address=get_object_or_404(PlanAddress, pk=pk), by=request.user)
    return redirect("plan-addresses")


@never_cache
@require_safe
def calendar(request: HttpRequest, key: str) -> HttpResponse:
    """Calendar behind a secret address."""
    found, last = address_of_key(key, PlanAddress.Kind.CALENDAR), adopted_plan()
    if found is None or last is None:
        raise Http404("no calendar")
    car = found.car.slug if found.car else ""
    data = calendar_file(
        PlannedShop.from_json(last.content),
        title=f"asfound: {found.about or found.car or 'the whole shop'}",
        zone=settings.TIME_ZONE,
        uid_of=_uid,
        adopted_at=last.adopted_at,
        person=found.about,
        car=car,
    )
    return HttpResponse(data, content_type="text/calendar; charset=utf-8")


def _uid(words: str) -> UUID:
    """The same for the same words at this workshop, and another at another."""
    return UUID(salted_hmac("asfound.calendar", words, algorithm="sha256").hexdigest()[:32])


def _choices() -> list[tuple[str, str]]:
    people = {r.text("person") for car in cars_at_work() for r in car.folder.sheet("people")}
    return [
        (SHOP, "Calendar of the whole shop"),
        *((f"{PERSON}{name}", f"Calendar of {name}") for name in sorted(people)),
        *((f"{CAR}{car.slug}", f"Calendar of {car}") for car, _ in shop_cars()),
        (WALL, "Wall screen"),
    ]


def _made(request: HttpRequest, of: str) -> str:
    """Whole address of a new key."""
    if of not in dict(_choices()):
        raise Http404(of)
    kind = PlanAddress.Kind.WALL if of == WALL else PlanAddress.Kind.CALENDAR
    car = Car.objects.get(slug=of.removeprefix(CAR)) if of.startswith(CAR) else None
    about = of.removeprefix(PERSON) if of.startswith(PERSON) else ""
    _, key = make_address(kind=kind, about=about, car=car, by=request.user)
    name = "wall-by-key" if of == WALL else "plan-calendar"
    return request.build_absolute_uri(reverse(name, args=(key,)))
