"""Writing down one number or one reading of the odometer, at the car or over a paper."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.craft.photographs import WHOLE_CAR
from asfound.desk.access import open_car_to_write, show
from asfound.desk.evidence.reading_forms import KINDS, AtTheCar, MilesForm, NumberForm
from asfound.desk.findings.keeping import NotTakenError, read_photo
from asfound.desk.observed.answering import (
    is_for_script,
    kept_answer,
    pressed_at,
    refused_answer,
)
from asfound.exchange.photographs import ReadIn, keep_read
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car


@login_required
@require_http_methods(["GET", "POST"])
def add_number(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down a number with its photograph; the next one may follow at once."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    form = NumberForm(request.POST or None, request.FILES or None, folder=folder)
    if request.method == "POST" and form.is_valid():
        try:
            made = _keep_number(request, car, form)
        except NotTakenError as error:
            form.add_error("photo", str(error))
        else:
            words = "{kind} {text_as_read}".format_map(form.cleaned_data)
            return _kept(request, slug, made, words, again="add-number", done="numbers")
    parts = [row.text("part") for row in folder.sheet("parts")]
    told = {"kinds": KINDS, "parts": parts}
    return _page(request, car, form, "evidence/add_number.html", **told)


def _keep_number(request: HttpRequest, car: Car, form: NumberForm) -> bool:
    """Number and photograph, both or none; none where they came before."""
    got, by = read_photo(form.cleaned_data["photo"]), request.user
    read_on = timezone.localdate(pressed_at(request)).isoformat()
    with transaction.atomic():
        file = _file(car, got, form.rows[-1], by)
        made = form.add(car, by=by, read_on=read_on, read_by=by.get_username(), photo=file)
        if not made:
            transaction.set_rollback(True)
    return made


def _file(car: Car, got: ReadIn | None, new: dict[str, str], by: Any) -> str:
    if got is None:
        return ""
    subject, view = new.get("part") or WHOLE_CAR, f"number: {new['kind']}"
    return keep_read(got, car=car, subject=subject, view=view, stage="before", by=by).file


@login_required
@require_http_methods(["GET", "POST"])
def add_miles(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down what a paper or the dial says of the distance; the next one may follow."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    before = [row.text("unit") for row in folder.sheet("odometer")]
    form = MilesForm(request.POST or None, folder=folder, initial={"unit": (before or ["km"])[-1]})
    if request.method == "POST" and form.is_valid():
        made = form.add(car, by=request.user)
        words = "{reading} {unit}, {source}".format_map(form.cleaned_data)
        return _kept(request, slug, made, words, again="add-miles", done="odometer")
    return _page(request, car, form, "evidence/add_miles.html")


def _kept(
    request: HttpRequest, slug: str, made: bool, words: str, *, again: str, done: str
) -> HttpResponse:
    """On to the next, or to what the readings come to, with what was kept told."""
    if made:
        messages.success(request, f"Kept: {words}.")
    else:
        messages.info(request, f"This was kept already: {words}.")
    following = again if request.POST.get("step") == "next" else done
    return kept_answer(request, reverse(following, args=(slug,)))


def _page(
    request: HttpRequest, car: Car, form: AtTheCar, template: str, **told: Any
) -> HttpResponse:
    if is_for_script(request):
        return refused_answer(form)
    status = 422 if form.is_bound else 200
    return show(request, template, status=status, car=car, room="evidence", form=form, **told)
