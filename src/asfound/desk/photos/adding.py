"""Photographs coming in: by the script in small batches, or by the form alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import IO, Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods

from asfound.craft.photographs import IN_THE_PICTURE, names_of_views
from asfound.desk.access import open_car_to_write, show
from asfound.desk.photos.forms import MOST_BYTES, AddForm
from asfound.desk.photos.lines import PhotoLine, photo_lines
from asfound.desk.photos.subjects import subjects_offered
from asfound.exchange.photographs import Taken, take_in
from asfound.record.faults import Fault
from asfound.record.models import Car, Photo

FIRST_SHOWN = 2
_PRESET = ("subject", "view", "stage")


@login_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, slug: str) -> HttpResponse:
    """Form, or some photographs that were sent with it."""
    car = open_car_to_write(request, slug)
    preset = {name: request.GET[name][:200] for name in _PRESET if request.GET.get(name)}
    form = AddForm(
        request.POST or None,
        request.FILES or None,
        car=car,
        initial={"subject": "car", "view": "whole", **preset},
    )
    for_script = "application/json" in request.headers.get("Accept", "")
    if request.method == "POST" and form.is_valid():
        taken, faults = _take(car, form.cleaned_data, request.user)
        elsewhere = [] if form.cleaned_data["by_labels"] else _elsewhere(taken)
        if for_script:
            return JsonResponse(_as_json(car, taken, faults, elsewhere))
        if not faults:
            return _done(request, car, taken, elsewhere)
        return _page(request, car, form, taken=taken, faults=faults, status=422)
    if request.method == "POST" and for_script:
        told = [str(error) for errors in form.errors.values() for error in errors]
        return JsonResponse({"refused": told}, status=422)
    return _page(request, car, form, status=422 if form.is_bound and form.errors else 200)


def _take(car: Car, typed: dict[str, Any], by: Any) -> tuple[Taken, list[Fault]]:
    files = sorted(typed["both"], key=lambda file: in_order(file.name))
    large = [_too_large(file.name, file.size) for file in files if file.size > MOST_BYTES]
    small: Iterator[tuple[str, IO[bytes]]] = (
        (file.name, file.file) for file in files if file.size <= MOST_BYTES
    )
    taken = take_in(
        small,
        car=car,
        by=by,
        **{name: typed[name] for name in ("subject", "view", "stage", "by_labels")},
    )
    return taken, [*large, *taken.faults]


def _elsewhere(taken: Taken) -> list[Photo]:
    """Photographs that the record had already, sorted to something else."""
    return [photo for photo in taken.photos if photo.subject != taken.subject]


def in_order(name: str) -> list[tuple[int, str]]:
    """Order of file names in which the ninth stands before the tenth."""
    pieces = re.split(r"(\d+)", name.casefold())
    return [(int(piece), "") if piece.isdecimal() else (-1, piece) for piece in pieces]


def _too_large(name: str, size: int) -> Fault:
    return Fault(
        file=name,
        value=f"{size / 1e6:.0f} MB",
        rule=f"a photograph may be {MOST_BYTES / 1e6:.0f} MB large",
        remedy="Export it as JPEG at full size, and keep the large file elsewhere.",
    )


def _as_json(car: Car, taken: Taken, faults: list[Fault], elsewhere: list[Photo]) -> dict[str, Any]:
    lines = photo_lines(car, taken.photos)
    return {
        "kept": [{"page": one.page, "small": one.small, "told": one.told} for one in lines],
        "faults": [
            {"file": f.file, "told": f"{f.rule[0].upper()}{f.rule[1:]}. {f.remedy}"} for f in faults
        ],
        "elsewhere_n": len(elsewhere),
        "labels_n": taken.labels_n,
        "subject": taken.subject,
    }


def _done(request: HttpRequest, car: Car, taken: Taken, elsewhere: list[Photo]) -> HttpResponse:
    n = len(taken.photos)
    messages.success(request, f"{n} photograph{' is' if n == 1 else 's are'} kept.")
    if elsewhere:
        messages.warning(
            request,
            f"{len(elsewhere)} of them the record had already, and they stay sorted as they were: "
            f"{', '.join(sorted({photo.subject for photo in elsewhere}))}.",
        )
    query = urlencode({"subject": taken.subject}) if not taken.labels_n else ""
    return redirect(f"{reverse('photos', args=(car.slug,))}?{query}")


def _first_of(car: Car, form: AddForm) -> list[PhotoLine]:
    """Photographs of the same view from before the work, where a later one is to be taken."""
    asked = {name: form[name].value() or "" for name in _PRESET}
    if asked.pop("stage") in ("", "before"):
        return []
    return photo_lines(car, car.photos.current().filter(**asked, stage="before")[:FIRST_SHOWN])


def _page(request: HttpRequest, car: Car, form: AddForm, **more: Any) -> HttpResponse:
    status = more.pop("status")
    return show(
        request,
        "photos/add.html",
        status=status,
        car=car,
        room="photos",
        form=form,
        offered=subjects_offered(car),
        views=names_of_views(),
        in_the_picture=IN_THE_PICTURE,
        first=_first_of(car, form),
        most_bytes=MOST_BYTES,
        **more,
    )
