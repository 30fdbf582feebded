"""Correcting or withdrawing a reading of sheet thickness: the old one stays, with the reason."""

from __future__ import annotations

from collections.abc import Mapping

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.metal.entering import checked_metal
from asfound.desk.metal.forms import CorrectionForm
from asfound.desk.observed.lines import observed_line
from asfound.desk.survey.forms import WithdrawalForm
from asfound.desk.tables.fault_words import in_words
from asfound.desk.undo import offer_undo
from asfound.record.actions import correct_observation, withdraw_observation
from asfound.record.convert.stored import folder_of
from asfound.record.faults import InputFaultsError
from asfound.record.models import Car, Observation


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of one reading with its two forms."""
    car = open_car_to_write(request, slug)
    reading = get_object_or_404(Observation, car=car, table="metal", pk=pk)
    back = ("metal-subject", slug, _kind(reading), reading.subject)
    if not reading.counts:
        messages.warning(
            request,
            "That reading was corrected or withdrawn already; nothing was changed now. "
            "It stands struck through below.",
        )
        return redirect(*back)
    step = request.POST.get("step")
    form = CorrectionForm(request.POST if step == "correct" else None, initial=reading.cells)
    withdraw = WithdrawalForm(request.POST if step == "withdraw" else None, auto_id="withdraw_%s")
    if form.is_valid() and _correct(request, car, reading, form):
        messages.success(request, "The reading is corrected; the old one is kept, struck through.")
        return redirect(*back)
    if withdraw.is_valid():
        withdraw_observation(observation=reading, by=request.user, **withdraw.cleaned_data)
        told = "The reading is withdrawn; it is kept, struck through."
        offer_undo(request, told, car=car, kind="observation", pk=reading.pk)
        return redirect(*back)
    return show(
        request,
        "observed/correct.html",
        status=422 if step else 200,
        car=car,
        room="survey",
        thing="reading",
        line=observed_line(reading, _told),
        back=reverse(back[0], args=back[1:]),
        for_example="the gauge stood on scale or on two sheets.",
        form=form,
        fields=[form[name] for name in form.fields if name != "reason"],
        withdraw=withdraw,
    )


def _told(cells: Mapping[str, str]) -> str:
    place = f"{cells.get('x_mm', '–')}, {cells.get('y_mm', '–')} mm"
    return f"{cells['thickness_mm']} mm at {place}"


def _kind(reading: Observation) -> str:
    return "panel" if reading.cells.get("panel") else "part"


def _correct(request: HttpRequest, car: Car, reading: Observation, form: CorrectionForm) -> bool:
    """Whether the correction was written; what stands against it is added to the form."""
    typed = dict(form.cleaned_data)
    reason = typed.pop("reason")
    try:
        (cells,) = checked_metal([{**reading.cells, **typed}], folder_of(car))
    except InputFaultsError as error:
        for fault in error.faults:
            told = in_words(fault, table="metal")
            form.add_error(None, f"{told.rule}. {told.remedy}")
        return False
    correct_observation(observation=reading, cells=cells, reason=reason, by=request.user)
    return True
