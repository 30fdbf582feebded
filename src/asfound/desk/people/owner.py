"""What the owner of a car sees: rooms released by the head, and who the owner is."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import open_car, show
from asfound.desk.people.door import refuse_all_but_head
from asfound.desk.people.forms import OwnerForm
from asfound.record.actions import (
    close_car_to_owner,
    grant_owner,
    release_room,
    withdraw_release,
)
from asfound.record.models import Car, Person
from asfound.record.models.person import Role
from asfound.record.models.release import OwnersRoom

LINES_SHOWN = 100


@login_required
@require_http_methods(["GET", "POST"])
def owner(request: HttpRequest, slug: str) -> HttpResponse:
    """Switches of the rooms, and the owners of the car."""
    car = open_car(request, slug)
    refuse_all_but_head(request)
    step, fault = request.POST.get("step", ""), ""
    form = OwnerForm(request.POST if step == "grant" else None)
    if step in _STEPS:
        try:
            messages.success(request, _STEPS[step](request, car))
        except InputError as error:
            fault = str(error)
        else:
            return redirect("car-owner", slug)
    elif form.is_valid():
        grant_owner(car=car, owner=form.cleaned_data["owner"], by=request.user)
        messages.success(request, f"{form.cleaned_data['owner']} may see this car.")
        return redirect("car-owner", slug)
    return show(
        request,
        "people/owner.html",
        status=422 if step else 200,
        car=car,
        room="owner",
        fault=fault,
        form=form,
        switches=_switches(car),
        owners=car.owners.select_related("user")[:LINES_SHOWN],
        owners_known=_owners_known(),
        past=car.releases.exclude(withdrawn_at=None).select_related("withdrawn_by")[:LINES_SHOWN],
    )


def _switches(car: Car) -> list[tuple[str, str, Any]]:
    """Each room with its label and the release that counts, if there is one."""
    released = {one.room: one for one in car.releases.current().select_related("released_by")}
    return [(value, label, released.get(value)) for value, label in OwnersRoom.choices]


def _owners_known() -> Any:
    found = Person.objects.current().filter(role=Role.OWNER).select_related("user")
    return found.order_by("user__username")[:LINES_SHOWN]


def _release(request: HttpRequest, car: Car) -> str:
    made = release_room(car=car, room=request.POST.get("room", ""), by=request.user)
    return f"{made.get_room_display()}: the owner sees it from now on."


def _withdraw(request: HttpRequest, car: Car) -> str:
    room, reason = request.POST.get("room", ""), request.POST.get("reason", "")
    withdraw_release(car=car, room=room, reason=reason, by=request.user)
    return f"{OwnersRoom(room).label}: closed to the owner."


def _close(request: HttpRequest, car: Car) -> str:
    key = request.POST.get("owner", "")
    whose = get_object_or_404(car.owners, pk=key if key.isdecimal() and len(key) < 19 else 0)
    reason = request.POST.get("reason", "")
    close_car_to_owner(car=car, owner=whose, reason=reason, by=request.user)
    return f"{whose} no longer sees this car."


_STEPS: dict[str, Callable[[HttpRequest, Car], str]] = {
    "release": _release,
    "withdraw": _withdraw,
    "close": _close,
}
