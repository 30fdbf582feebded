"""The treatment record of a piece: decided, done, by whom, with what, to which result."""

from __future__ import annotations

from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car_to_write, show
from asfound.desk.decisions.as_left import as_left_forms
from asfound.desk.findings.lines import lines_on
from asfound.desk.observed.lines import ObservedLine
from asfound.desk.photos.lines import PhotoLine, photo_lines
from asfound.desk.photos.subjects import shown_by
from asfound.desk.work.lines import card_address
from asfound.desk.work.told import HEADS, lines_told
from asfound.record.convert.cards import cards_of
from asfound.record.convert.stored import folder_of
from asfound.record.convert.treatment_words import words_of
from asfound.record.convert.work_words import hours_words
from asfound.record.models import Car, Observation

PHOTOS_SHOWN = 12


def record_address(slug: str, subject: str) -> str:
    """Address of the treatment record of a piece."""
    return f"{reverse('treatment-record', args=(slug,))}?{urlencode({'subject': subject})}"


@login_required
@require_GET
def record_of(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Lead to the record of a piece."""
    return redirect(record_address(slug, subject))


@login_required
@require_GET
def record(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the treatment record."""
    car = open_car_to_write(request, slug)
    subject = request.GET.get("subject", "")
    folder = folder_of(car)
    cards = [one for one in cards_of(folder, now=timezone.now()) if one.subject == subject]
    entries = _entries(car, subject)
    if not cards and not entries:
        raise Http404(subject)
    signed = next((one for one in cards if one.treatment), None)
    return show(
        request,
        "work/record.html",
        car=car,
        room="work",
        subject=subject,
        shown=shown_by(car, [subject])[subject],
        cards=[(one, card_address(slug, one.task), hours_words(one.work.hours)) for one in cards],
        signed=signed,
        words=words_of(signed.treatment) if signed else None,
        decision=car.decisions.current().filter(subject=subject).first(),
        entries=entries,
        left=list(as_left_forms(request, folder, subject=subject)),
        findings=lines_on(car, subject),
        photos=[(stage, _photos(car, subject, stage)) for stage in ("before", "during", "after")],
    )


def _entries(car: Car, subject: str) -> list[tuple[str, list[ObservedLine]]]:
    found = Observation.objects.filter(car=car, subject=subject)
    told = []
    for table, head in HEADS.items():
        rows = found.filter(table=table).select_related("superseded_by", "car")
        lines = lines_told(table, rows.order_by("position", "pk"))
        if lines:
            told.append((head, lines))
    return told


def _photos(car: Car, subject: str, stage: str) -> list[PhotoLine]:
    found = car.photos.current().filter(subject=subject, stage=stage).order_by("position")
    return photo_lines(car, found[:PHOTOS_SHOWN])
