"""The survey to keep: picture, readings, and the reading of the finish."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car
from asfound.desk.observed.files import as_file
from asfound.dossier.figures import sheet_svg
from asfound.exchange import csv_bytes, json_bytes
from asfound.measure.film import FilmReading
from asfound.record.convert.stored import folder_of
from asfound.record.derived import film_reading
from asfound.record.folder import CarFolder
from asfound.record.results.film import film_json


@login_required
@require_GET
def svg(request: HttpRequest, slug: str) -> HttpResponse:
    """The unfolded sheet as a picture with its own colours."""
    folder = folder_of(open_car(request, slug))
    try:
        reading = film_reading(folder) if len(folder.sheet("film")) else None
        picture = sheet_svg(folder, reading, theme="print")
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(picture.encode(), "image/svg+xml", f"{slug}-survey.svg")


@login_required
@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """Every reading that counts, as the car folder has it."""
    folder = folder_of(open_car(request, slug))
    if "film" not in folder.sheets:
        raise Http404("the car has no film.csv")
    return as_file(csv_bytes(folder.sheet("film")), "text/csv; charset=utf-8", f"{slug}-film.csv")


@login_required
@require_GET
def json(request: HttpRequest, slug: str) -> HttpResponse:
    """The reading of the finish as the contract has it."""
    reading = _reading(folder_of(open_car(request, slug)))
    return as_file(json_bytes(film_json(reading)), "application/json", f"{slug}-film.json")


def _reading(folder: CarFolder) -> FilmReading:
    try:
        return film_reading(folder)
    except AsfoundError as error:
        raise Http404(str(error)) from error
