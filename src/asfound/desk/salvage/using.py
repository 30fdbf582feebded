"""Reserving and using of a piece, and giving back."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from asfound.base import InputError
from asfound.desk.access import refuse_readers
from asfound.desk.salvage.finding import find_row
from asfound.desk.salvage.forms import TakeForm
from asfound.desk.undo import offer_workshop_undo
from asfound.record.actions.salvage_use import give_back, take_of_piece, use_reserved
from asfound.record.models import Car, SalvageUse
from asfound.record.reads import cars_for


@login_required
@require_POST
def take(request: HttpRequest, number: str) -> HttpResponse:
    """Reserve or use an area, a count, or the whole of a piece."""
    refuse_readers(request)
    row = find_row(number)
    form = TakeForm(request.POST)
    if not form.is_valid():
        told = " ".join(str(error) for errors in form.errors.values() for error in errors)
        messages.warning(request, f"{told} Nothing was changed.")
        return redirect("salvage-piece", number)
    data = form.cleaned_data
    car = _car(request, data["car"])
    use = take_of_piece(
        piece=row.piece,
        what=data["what"],
        car=car,
        need=data["need"],
        part=data["part"],
        count=data["count"],
        outline_wkt=data["outline_wkt"],
        note=data["note"],
        by=request.user,
    )
    for_whom = f" for {car}" if car is not None else ""
    said = f"Of {row} {_much(use)} is {data['what']}{for_whom}."
    messages.success(request, said)
    return redirect("salvage-piece", number)


@login_required
@require_POST
def end(request: HttpRequest, pk: int) -> HttpResponse:
    """What was reserved is used now, or given back with a reason."""
    refuse_readers(request)
    use = get_object_or_404(SalvageUse.objects.select_related("piece", "car"), pk=pk)
    number = use.piece.number
    if request.POST.get("step") == "use":
        use_reserved(use=use, part=request.POST.get("part", "").strip(), by=request.user)
        messages.success(request, "It is used now; the reservation stays in the trail.")
        return redirect("salvage-piece", number)
    give_back(use=use, reason=request.POST.get("reason", ""), by=request.user)
    said = "It is free again; the trail keeps what was taken and why it was given back."
    offer_workshop_undo(request, said, kind="salvage-use", pk=use.pk)
    return redirect("salvage-piece", number)


def _car(request: HttpRequest, slug: str) -> Car | None:
    if not slug:
        return None
    found = cars_for(request.user).filter(slug=slug).first()
    if found is None:
        raise InputError(field="car", got=slug, allowed="a car of the record")
    return found


def _much(use: SalvageUse) -> str:
    if use.count is not None:
        return f"{use.count}"
    return "a cut" if use.outline_wkt else "the whole"
