"""The condition report of a part, a panel or the car: a page to print, and a PDF."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify
from django.views.decorators.http import require_GET

from asfound.desk.access import may_write, open_car, open_rooms, show
from asfound.desk.findings.entering import figure_of
from asfound.desk.findings.lines import FindingLine, finding_lines, layer_on, lines_on
from asfound.desk.findings.sheet import findings_sheet
from asfound.desk.findings.subjects import about_or_404
from asfound.desk.observed.files import as_file
from asfound.desk.photos.lines import photo_lines
from asfound.dossier import Shown, about_condition, make_condition_report
from asfound.exchange.photographs import picture_on_shelf
from asfound.record.convert.findings import by_subject
from asfound.record.convert.stored import folder_of
from asfound.record.convert.stored_near import folder_near
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.models.release import OwnersRoom
from asfound.record.reads.findings import findings_that_count

PHOTOS_SHOWN = 24
MOST_ON_A_PAGE = 400
"""Findings of a car on its report as a page; the PDF and the list have them all."""


@login_required
@require_GET
def of_subject(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Condition of one part or panel: where a finding of the search leads to."""
    car = open_car(request, slug)
    about = about_or_404(car, subject)
    lines = lines_on(car, subject)
    figure = figure_of(folder_of(car), about, [one.numbered for one in lines])
    return _page(request, car, lines, subject=subject, about=about, figure=figure)


@login_required
@require_GET
def of_car(request: HttpRequest, slug: str) -> HttpResponse:
    """Condition of the whole car, by part and panel."""
    car = open_car(request, slug)
    rows = list(findings_that_count(car)[:MOST_ON_A_PAGE])
    order = list(dict.fromkeys(row.subject for row in rows))
    lines = finding_lines(car, sorted(rows, key=lambda row: order.index(row.subject)))
    return _page(request, car, lines, figure=findings_sheet(car, lines))


def _page(
    request: HttpRequest, car: Car, lines: list[FindingLine], *, subject: str = "", **more: Any
) -> HttpResponse:
    told = about_condition(
        _folder(car, subject),
        made_on=timezone.localdate(),
        subject=subject,
        shown=_shown(request, car),
    )
    return show(
        request,
        "findings/report.html",
        car=car,
        room="findings",
        subject=subject,
        told=told,
        groups=_groups(lines),
        lines=lines,
        pictures=_pictures(car, lines),
        pdf=_pdf_address(car, subject),
        **more,
    )


@login_required
@require_GET
def of_subject_pdf(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """The same as a PDF."""
    car = open_car(request, slug)
    about_or_404(car, subject)
    return _pdf(request, car, subject)


@login_required
@require_GET
def of_car_pdf(request: HttpRequest, slug: str) -> HttpResponse:
    """Condition of the whole car as a PDF."""
    return _pdf(request, open_car(request, slug), "")


def _pdf(request: HttpRequest, car: Car, subject: str) -> HttpResponse:
    data = make_condition_report(
        _folder(car, subject),
        made_on=timezone.localdate(),
        subject=subject,
        picture=picture_on_shelf,
        shown=_shown(request, car),
    )
    name = "-".join(filter(None, (car.slug, slugify(subject), "condition")))
    return as_file(data, "application/pdf", f"{name}.pdf")


def _folder(car: Car, subject: str) -> CarFolder:
    return folder_near(car, subject) if subject else folder_of(car)


def _shown(request: HttpRequest, car: Car) -> Shown:
    """History is the workshop's; decisions are for whom that room is open."""
    decisions = OwnersRoom.DECISIONS in open_rooms(request, car)
    return Shown(history=may_write(request), decisions=decisions)


def _pdf_address(car: Car, subject: str) -> str:
    if subject:
        return reverse("condition-of-pdf", args=(car.slug, subject))
    return reverse("condition-pdf", args=(car.slug,))


def _groups(lines: list[FindingLine]) -> list[tuple[FindingLine, list[FindingLine]]]:
    """Lines by what they are on, each group with its first, which names it."""
    by_pk = {id(one.finding): one for one in lines}
    groups = by_subject(one.finding for one in lines).values()
    return [(by_pk[id(g[0])], [by_pk[id(finding)] for finding in g]) for g in groups]


def _pictures(car: Car, lines: list[FindingLine]) -> list[dict[str, Any]]:
    """Photographs that findings name, with the numbers and marks of those."""
    files = list(dict.fromkeys(file for one in lines for file in one.finding.photos))
    rows = {photo.file: photo for photo in car.photos.current().filter(file__in=files[:200])}
    there = [rows[file] for file in files if file in rows][:PHOTOS_SHOWN]
    return [
        {
            "line": shown,
            "over": (over := [one for one in lines if shown.photo.file in one.finding.photos]),
            "layer": layer_on(shown.photo.sha256, over, file=shown.photo.file),
        }
        for shown in photo_lines(car, there)
    ]
