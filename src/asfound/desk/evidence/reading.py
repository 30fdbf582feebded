"""Writing down one number or one reading of the odometer, at the car or over a paper."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.craft.photographs import WHOLE_CAR
from asfound.desk.access import open_car_to_write, show
from asfound.desk.evidence.reading_forms import KINDS, MilesForm, NumberForm
from asfound.desk.findings.keeping import NotTakenError, read_photo
from asfound.exchange.photographs import keep_read
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car


@login_required
@require_http_methods(["GET", "POST"])
def add_number(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down a number with its photograph; the next one may follow at once."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    form = NumberForm(request.POST or None, request.FILES or None, folder=folder)
    if request.method == "POST" and form.is_valid() and _keep_number(car, form, request.user):
        typed = form.cleaned_data
        messages.success(request, f"Kept: {typed['kind']} {typed['text_as_read']}.")
        return _on(request, slug, again="add-number", done="numbers")
    parts = [row.text("part") for row in folder.sheet("parts")]
    told = {"kinds": KINDS, "parts": parts}
    return _page(request, car, form, "evidence/add_number.html", **told)


def _keep_number(car: Car, form: NumberForm, by: Any) -> bool:
    """Number and photograph, both or none."""
    try:
        got = read_photo(form.cleaned_data["photo"])
    except NotTakenError as error:
        form.add_error("photo", str(error))
        return False
    read = {"read_on": timezone.localdate().isoformat(), "read_by": by.get_username()}
    new = form.rows[-1]
    with transaction.atomic():
        if got is not None:
            subject, view = new.get("part") or WHOLE_CAR, f"number: {new['kind']}"
            photo = keep_read(got, car=car, subject=subject, view=view, stage="before", by=by)
            read["photo"] = photo.file
        form.rows = (*form.rows[:-1], {**new, **read})
        kept = form.keep(car, by=by)
        if not kept:
            transaction.set_rollback(True)
    return kept


@login_required
@require_http_methods(["GET", "POST"])
def add_miles(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down what a paper or the dial says of the distance; the next one may follow."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    before = [row.text("unit") for row in folder.sheet("odometer")]
    form = MilesForm(request.POST or None, folder=folder, initial={"unit": (before or ["km"])[-1]})
    if request.method == "POST" and form.is_valid() and form.keep(car, by=request.user):
        typed = form.cleaned_data
        messages.success(request, f"Kept: {typed['reading']} {typed['unit']}, {typed['source']}.")
        return _on(request, slug, again="add-miles", done="odometer")
    return _page(request, car, form, "evidence/add_miles.html")


def _on(request: HttpRequest, slug: str, *, again: str, done: str) -> HttpResponse:
    return redirect(again if request.POST.get("step") == "next" else done, slug=slug)


def _page(request: HttpRequest, car: Car, form: Any, template: str, **told: Any) -> HttpResponse:
    status = 422 if form.is_bound else 200
    return show(request, template, status=status, car=car, room="evidence", form=form, **told)
