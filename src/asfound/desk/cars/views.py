"""The list of cars, loading one, and a car's sheet."""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.files.uploadedfile import UploadedFile
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods

from asfound.desk.access import may_write, open_car, refuse_readers, show
from asfound.desk.cars.forms import LOAD_AGAIN, FolderForm
from asfound.desk.cars.missing import has_rows, missing
from asfound.desk.cars.numbers import numbers
from asfound.desk.cars.waiting import waiting_for, waiting_for_owner
from asfound.exchange import read_folder, unpack_folder
from asfound.record.actions import load_car
from asfound.record.convert.carried import returned
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.models import Car
from asfound.record.reads import brief_of, cars_for
from asfound.record.reads.workshop import workshop_sheets

CARS_A_PAGE = 24
FAULTS_SHOWN = 200


@login_required
@require_GET
def cars(request: HttpRequest) -> HttpResponse:
    """Cars that the person may see."""
    page = Paginator(cars_for(request.user), CARS_A_PAGE).get_page(request.GET.get("page"))
    return show(request, "cars/list.html", page=page, waiting=waiting_for(request))


@login_required
@require_http_methods(["GET", "POST"])
def load(request: HttpRequest) -> HttpResponse:
    """Form that takes a car folder; loads it whole or tells every fault."""
    refuse_readers(request)
    form = FolderForm(request.POST or None, request.FILES or None)
    faults: tuple[Fault, ...] = ()
    if request.method == "POST" and form.is_valid():
        try:
            loaded, left = _load(request, **form.cleaned_data)
        except InputFaultsError as error:
            faults = error.faults
        else:
            messages.success(request, f"{loaded} is loaded: every table passed its checks.")
            if left:
                messages.info(request, left)
            return redirect("car", loaded.slug)
    return show(
        request,
        "cars/load.html",
        status=422 if faults or form.errors else 200,
        form=form,
        faults=faults[:FAULTS_SHOWN],
        faults_n=len(faults),
    )


def _load(request: HttpRequest, folder: UploadedFile[Any], *, replace: bool) -> tuple[Car, str]:
    """The car, and what of its folder stays the workshop's."""
    with tempfile.TemporaryDirectory(prefix="asfound-") as scratch:
        place = unpack_folder(folder, Path(scratch), file=folder.name or "the file")
        read = read_folder(place)
        left = returned(read, workshop_sheets()).words()
        car = load_car(
            folder=read,
            by=request.user,
            open_file=lambda kept: (place / kept.path).open("rb"),
            replace=replace,
            way_over=f"tick “{LOAD_AGAIN}”",
        )
        return car, left


@login_required
@require_GET
def car(request: HttpRequest, slug: str) -> HttpResponse:
    """Car's sheet: what it is, what its film tells, what is chosen, what is missing."""
    found = open_car(request, slug)
    folder = folder_of(found)
    own = cars_for(request.user).filter(pk=found.pk)
    return show(
        request,
        "cars/car.html",
        waiting=None if may_write(request) else waiting_for_owner(own, request.user),
        car=found,
        room="car",
        has_film=has_rows(found, folder, "film"),
        has_options=has_rows(found, folder, "options"),
        has_ledger=any(has_rows(found, folder, name) for name in ("parts", "panels")),
        has_events=bool(found.heads.get("events")),
        identifiers=numbers(folder),
        brief=brief_of(found),
        missing=missing(found, folder),
    )
