"""The numbers check: every mark beside what is expected, as a page and as a sheet to print."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show
from asfound.desk.evidence.rows import row_lines, set_aside
from asfound.desk.photos.named import photos_named
from asfound.record.convert.numbers import classes_of, marks_of
from asfound.record.convert.standing import row_mark
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.results.numbers import LIMIT


@login_required
@require_GET
def numbers(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the numbers check."""
    car = open_car(request, slug)
    folder = folder_of(car)
    context: dict[str, Any] = {"limit": LIMIT}
    try:
        context |= {**_checked(request, car, folder), "classes": classes_of(folder)}
    except AsfoundError as error:
        context["refusal"] = str(error)
    return show(request, "evidence/numbers.html", car=car, room="evidence", **context)


def _checked(request: HttpRequest, car: Car, folder: CarFolder) -> dict[str, Any]:
    """Marks, each with the address of its row and its photographs, and rows set aside."""
    marks = marks_of(folder)
    lines = row_lines(folder, "identifiers", car.slug)
    standing = [line.address for line in lines if line.counts]
    photos = photos_named(request, car, (mark.row.text("photo") for mark in marks))
    return {
        "marks": [
            {
                "judged": mark.judged,
                "row": mark.row,
                "part": mark.part,
                "address": address,
                "mark": row_mark(mark.row.cells),
                "photos": photos.get(mark.row.text("photo")),
            }
            for mark, address in zip(marks, standing, strict=True)
        ],
        "aside": list(set_aside(lines)),
    }
