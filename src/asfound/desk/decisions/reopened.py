"""A decision that a finding reopens: each option against what is signed, and what the head says."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.base import AsfoundError, InputError
from asfound.desk.access import open_car_to_write, show, wants_whole
from asfound.desk.beside import waiting_for
from asfound.desk.photos.lines import PhotoLine, photo_lines
from asfound.record.actions import can_release, last_signed, release_hold
from asfound.record.background.works import weigh_ways
from asfound.record.convert.holds import HOLDS, Hold, hold_of
from asfound.record.convert.stored import folder_of
from asfound.record.derived import effects_key, effects_of
from asfound.record.models import Car, Observation


@login_required
@require_GET
def reopened(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of a reopened decision; of one that is settled, how it was."""
    car = open_car_to_write(request, slug)
    row = _latest(car, pk)
    hold = hold_of(row.cells)
    return show(
        request,
        "decisions/reopened.html",
        car=car,
        room="decisions",
        row=row,
        hold=hold,
        counts=row.counts,
        photos=_photos(car, hold),
        may_settle=can_release(hold=row, by=request.user),
        **(_against_signed(car, row) if wants_whole(request) else {}),
    )


@login_required
@require_http_methods(["GET", "POST"])
def reopened_effects(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """What each option would change, as a fragment of the page."""
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('reopened', args=(slug, pk))}?whole=1")
    car = open_car_to_write(request, slug)
    row, signed = _latest(car, pk), last_signed(car)
    if signed is not None:
        waiting = waiting_for(
            request,
            weigh_ways,
            car,
            key=effects_key(folder_of(car), row.subject, signed.content),
            what="Choosing the car around each way",
            car=car.slug,
            piece=row.subject,
        )
        if waiting is not None:
            return waiting
    found = _against_signed(car, row)
    hold = hold_of(row.cells)
    return show(request, "decisions/_reopened_effects.html", car=car, row=row, hold=hold, **found)


@login_required
@require_POST
def stands(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """The head has seen the finding, and the decision stands."""
    car = open_car_to_write(request, slug)
    row = _latest(car, pk)
    reason = request.POST.get("reason", "").strip()[:400]
    note = f"the decision stands: {reason}" if reason else ""
    try:
        release_hold(hold=row, note=note, by=request.user)
    except InputError as error:
        messages.warning(request, f"Nothing was changed: {error}")
        return redirect("reopened", slug, row.pk)
    messages.success(request, f"{row.subject}: the decision stands; the work can go on.")
    return redirect("reopened", slug, row.pk)


def _latest(car: Car, pk: int) -> Observation:
    """The hold as it stands now, of whichever of its versions the address is."""
    row = get_object_or_404(Observation, car=car, table=HOLDS, pk=pk)
    while row.superseded_by_id is not None:
        row = Observation.objects.get(pk=row.superseded_by_id)
    if not hold_of(row.cells).finding:
        raise Http404(pk)
    return row


def _photos(car: Car, hold: Hold) -> list[PhotoLine]:
    return photo_lines(car, car.photos.current().filter(file__in=hold.photos))


def _against_signed(car: Car, row: Observation) -> dict[str, Any]:
    """What each option would come to against what is signed."""
    signed, folder = last_signed(car), folder_of(car)
    if signed is None:
        return {"shown": True}
    try:
        found = effects_of(folder, row.subject, signed.content)
    except AsfoundError as error:
        return {"shown": True, "refusal": str(error)}
    return {"shown": True, "signed": signed, "effects": found}
