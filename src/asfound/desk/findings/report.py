"""The condition report of a part, a panel or the car, as a page to print."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car, show
from asfound.desk.findings.entering import figure_of
from asfound.desk.findings.lines import FindingLine, finding_lines, layer_on, lines_on
from asfound.desk.findings.report_pdf import shown_to
from asfound.desk.findings.sheet import findings_sheet
from asfound.desk.findings.subjects import about_or_404
from asfound.desk.photos.lines import photo_lines
from asfound.dossier import about_condition
from asfound.record.convert.findings import by_subject
from asfound.record.convert.stored import folder_of
from asfound.record.convert.stored_near import folder_near
from asfound.record.models import Car
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
        folder_near(car, subject) if subject else folder_of(car),
        made_on=timezone.localdate(),
        subject=subject,
        shown=shown_to(request, car),
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
        **more,
    )


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
