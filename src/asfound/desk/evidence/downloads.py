"""The evidence to keep, as the commands print it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car
from asfound.desk.observed.files import as_file
from asfound.exchange import json_bytes
from asfound.record.convert.numbers import classes_of, marks_of
from asfound.record.convert.odometer import odometer_readings
from asfound.record.convert.stored import folder_of
from asfound.record.derived import found_ledger, weighed_evidence
from asfound.record.folder import CarFolder
from asfound.record.results.aside import aside_json
from asfound.record.results.evidence import evidence_json
from asfound.record.results.ledger import ledger_json
from asfound.record.results.numbers import numbers_json
from asfound.record.results.odometer import odometer_json
from asfound.weigh.odometer import read_odometer


@login_required
@require_GET
def evidence(request: HttpRequest, slug: str) -> HttpResponse:
    """Every claim weighed, and the rows that do not count."""
    return _file(request, slug, "evidence", lambda car: evidence_json(weighed_evidence(car), car))


@login_required
@require_GET
def numbers(request: HttpRequest, slug: str) -> HttpResponse:
    """What ``asfound numbers --json`` prints."""
    return _file(
        request,
        slug,
        "numbers",
        lambda car: (
            numbers_json(marks_of(car), classes_of(car))
            | {"set_aside": aside_json(car, "identifiers")}
        ),
    )


@login_required
@require_GET
def odometer(request: HttpRequest, slug: str) -> HttpResponse:
    """What ``asfound odometer --json`` prints."""
    return _file(
        request,
        slug,
        "odometer",
        lambda car: (
            odometer_json(read_odometer(odometer_readings(car)))
            | {"set_aside": aside_json(car, "odometer")}
        ),
    )


@login_required
@require_GET
def ledger(request: HttpRequest, slug: str) -> HttpResponse:
    """What ``asfound ledger --json`` prints."""
    return _file(request, slug, "ledger", lambda car: ledger_json(found_ledger(car)))


def _file(
    request: HttpRequest, slug: str, name: str, tell: Callable[[CarFolder], Any]
) -> HttpResponse:
    folder = folder_of(open_car(request, slug))
    try:
        told = tell(folder)
    except AsfoundError as error:
        raise Http404(str(error)) from error
    return as_file(json_bytes(told), "application/json", f"{slug}-{name}.json")
