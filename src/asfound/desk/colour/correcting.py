"""Correcting or withdrawing a colour reading: the old one stays, with the reason."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.colour.forms import ColourCorrectionForm
from asfound.desk.colour.readings import colour_line
from asfound.desk.survey.forms import WithdrawalForm
from asfound.desk.undo import offer_undo
from asfound.record.actions import correct_observation, withdraw_observation
from asfound.record.convert.stored import folder_of
from asfound.record.models import Observation

_SAID = "the old one is kept, struck through."


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of one reading with its two forms."""
    car = open_car_to_write(request, slug)
    reading = get_object_or_404(Observation, car=car, pk=pk, table="colour")
    if not reading.counts:
        messages.warning(
            request, "That reading was corrected or withdrawn already; nothing was changed now."
        )
        return redirect("colour", slug)
    step = request.POST.get("step")
    form = ColourCorrectionForm(
        request.POST if step == "correct" else None,
        initial=dict(reading.cells),
        folder=folder_of(car),
        fixed=dict(reading.cells),
    )
    withdraw = WithdrawalForm(request.POST if step == "withdraw" else None, auto_id="withdraw_%s")
    if form.is_valid():
        data = form.cleaned_data
        correct_observation(
            observation=reading, cells=data["cells"], reason=data["reason"], by=request.user
        )
        messages.success(request, f"The reading is corrected; {_SAID}")
        return redirect("colour", slug)
    if withdraw.is_valid():
        withdraw_observation(
            observation=reading, reason=withdraw.cleaned_data["reason"], by=request.user
        )
        told = "The reading is withdrawn; it is kept, struck through."
        offer_undo(request, told, car=car, kind="observation", pk=reading.pk)
        return redirect("colour", slug)
    return show(
        request,
        "colour/correct.html",
        status=422 if step else 200,
        car=car,
        room="survey",
        line=colour_line(reading),
        form=form,
        withdraw=withdraw,
    )
