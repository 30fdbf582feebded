"""The photographs of a car, a page at a time, by what they show."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import open_car, show
from asfound.desk.photos.lines import photo_lines
from asfound.desk.photos.subjects import find_subject, shown_by, subjects_offered
from asfound.record.actions.photo import STAGES
from asfound.record.models import Car, Photo

PHOTOS_A_PAGE = 48


@login_required
@require_GET
def gallery(request: HttpRequest, slug: str) -> HttpResponse:
    """Small pictures, those that came last first."""
    car = open_car(request, slug)
    typed, stage = request.GET.get("subject", "").strip(), request.GET.get("stage", "")
    subject = find_subject(car, typed) if typed else ""
    found = photos_of(car, subject=subject, stage=stage)
    page = Paginator(found.order_by("-position", "-pk"), PHOTOS_A_PAGE).get_page(
        request.GET.get("page")
    )
    asked = request.GET.copy()
    asked.pop("page", None)
    return show(
        request,
        "photos/list.html",
        car=car,
        room="photos",
        page=page,
        lines=photo_lines(car, page),
        typed=typed,
        subject=subject or "",
        about=shown_by(car, [subject])[subject] if subject else None,
        unknown=typed if subject is None else "",
        stage=stage,
        stages=STAGES,
        offered=subjects_offered(car),
        query=asked.urlencode(),
    )


def photos_of(car: Car, *, subject: str | None = "", stage: str = "") -> QuerySet[Photo]:
    """Photographs that count, of one subject or all; ``None`` for a subject that is not known."""
    found: QuerySet[Photo] = car.photos.current()
    if subject is None:
        return found.none()
    if subject:
        found = found.filter(subject=subject)
    if stage in STAGES:
        found = found.filter(stage=stage)
    return found
