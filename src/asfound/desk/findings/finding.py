"""A finding's page: what was observed, apart from it the opinion, its photographs, its history."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_GET

from asfound.craft.cautions import DEFER, cautions_for
from asfound.craft.conditions import MOST_SEVERE
from asfound.desk.access import may_write, open_car, show
from asfound.desk.findings.entering import figure_of
from asfound.desk.findings.forms import OpinionForm, PhotoForm, WithdrawFindingForm
from asfound.desk.findings.lines import FindingLine, finding_lines, layer_on, number_of
from asfound.desk.findings.subjects import about_or_404
from asfound.desk.findings.versions import version_lines
from asfound.desk.photos.lines import photo_lines
from asfound.record.actions import reopening_hold, signed_piece
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Observation
from asfound.record.reads.findings import kinds_offered, versions_of

PHOTOS_SHOWN = 12


@login_required
@require_GET
def finding(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of one finding; one that counts no longer says so, and only to the workshop."""
    car = open_car(request, slug)
    return finding_page(request, car, find_finding(car, pk, request))


def find_finding(car: Car, pk: int, request: HttpRequest) -> Observation:
    """Finding of the car; an owner sees those that count."""
    found = get_object_or_404(Observation, car=car, table="findings", pk=pk)
    if not found.counts and not may_write(request):
        raise Http404(pk)
    return found


def finding_page(
    request: HttpRequest, car: Car, row: Observation, *, status: int = 200, **forms: Any
) -> HttpResponse:
    """Page of a finding, with the form that was asked back if there is one."""
    number = number_of(car, row)
    (line,) = finding_lines(car, [row], numbers=[number or 1])
    about = about_or_404(car, row.subject)
    meant = next((k for k in kinds_offered(car) if k.word == line.finding.kind), None)
    return show(
        request,
        "findings/finding.html",
        status=status,
        car=car,
        room="findings",
        row=row,
        line=line,
        finding=line.finding,
        about=about,
        number=number,
        meant=meant.says if meant else "",
        figure=figure_of(folder_of(car), about, [line.numbered]),
        pictures=_pictures(car, line),
        is_grave=line.finding.step.grade >= MOST_SEVERE,
        cautions=_cautions(line, about.words),
        defer=DEFER,
        **(_for_the_workshop(row, forms) if may_write(request) else {}),
    )


def _for_the_workshop(row: Observation, forms: dict[str, Any]) -> dict[str, Any]:
    said = {name: row.cells.get(name, "") for name in ("opinion", "active", "advice")}
    versions = versions_of(row)
    return {
        "versions": version_lines(versions),
        "signed_piece": signed_piece(row.car, row.subject),
        "reopening": reopening_hold(row),
        "now": versions[0] if versions[0].pk != row.pk else None,
        "opinion_form": OpinionForm(initial=said),
        "photo_form": PhotoForm(),
        "withdraw": WithdrawFindingForm(auto_id="withdraw_%s"),
        **forms,
    }


def _pictures(car: Car, line: FindingLine) -> list[dict[str, Any]]:
    """Photographs that the finding names, the first with its mark."""
    rows = {
        photo.file: photo for photo in car.photos.current().filter(file__in=line.finding.photos)
    }
    there = [rows[file] for file in line.finding.photos if file in rows][:PHOTOS_SHOWN]
    return [
        {"line": one, "layer": layer_on(one.photo.sha256, [line], file=one.photo.file)}
        for one in photo_lines(car, there)
    ]


def _cautions(line: FindingLine, words: str) -> list[Any]:
    """Cautions that the finding's own words call for."""
    found = cautions_for([words, line.finding.kind, line.finding.note])
    return [caution for caution in found if caution.called_by]
