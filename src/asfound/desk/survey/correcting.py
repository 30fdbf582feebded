"""Correcting or withdrawing a reading: the old one stays, with the reason."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.survey.forms import CorrectionForm, WithdrawalForm
from asfound.desk.templatetags.desk import trimmed
from asfound.desk.undo import offer_undo
from asfound.record.actions import correct_film_reading, withdraw_film_reading
from asfound.record.models import FilmReading


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of one reading with its two forms."""
    car = open_car_to_write(request, slug)
    reading = get_object_or_404(FilmReading, car=car, pk=pk)
    if not FilmReading.objects.current().filter(pk=pk).exists():
        messages.warning(
            request,
            "That reading was corrected or withdrawn already; nothing was changed now. "
            "It stands struck through below.",
        )
        return redirect("panel", slug, reading.panel)
    step = request.POST.get("step")
    form = CorrectionForm(
        request.POST if step == "correct" else None,
        initial={name: f"{getattr(reading, name):g}" for name in ("thickness_um", "x_mm", "y_mm")},
    )
    withdraw = WithdrawalForm(request.POST if step == "withdraw" else None, auto_id="withdraw_%s")
    if form.is_valid():
        correct_film_reading(reading=reading, by=request.user, **form.cleaned_data)
        messages.success(request, "The reading is corrected; the old one is kept, struck through.")
        return redirect("panel", slug, reading.panel)
    if withdraw.is_valid():
        withdraw_film_reading(reading=reading, by=request.user, **withdraw.cleaned_data)
        told = "The reading is withdrawn; it is kept, struck through."
        offer_undo(request, told, car=car, kind="film-reading", pk=reading.pk)
        return redirect("panel", slug, reading.panel)
    return show(
        request,
        "observed/correct.html",
        status=422 if step else 200,
        car=car,
        room="survey",
        thing="reading",
        line={"subject": reading.panel, "told": _told(reading)},
        back=reverse("panel", args=(slug, reading.panel)),
        for_example="the gauge stood on a seam, or on the wrong panel.",
        form=form,
        fields=[form[name] for name in form.fields if name != "reason"],
        withdraw=withdraw,
    )


def _told(reading: FilmReading) -> str:
    place = f"{trimmed(reading.x_mm)}, {trimmed(reading.y_mm)} mm"
    return f"spot {reading.spot}, {trimmed(reading.thickness_um)} µm at {place}"
