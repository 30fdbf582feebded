"""Choosing what a finding is on: a panel to tap, or a part found as one types."""

from __future__ import annotations

from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse

from asfound.desk.access import show
from asfound.desk.findings.subjects import find_about
from asfound.desk.photos.subjects import find_subject
from asfound.record.models import Car, Photo
from asfound.record.reads.register import parts_of

PARTS_SHOWN = 30


def choose_subject(
    request: HttpRequest, car: Car, photo: Photo | None, *, unknown: str
) -> HttpResponse:
    """Page of panels and parts; what names one exactly leads straight on."""
    words = request.GET.get("q", "").strip()
    meant = find_subject(car, unknown) if unknown else None
    with_photo = {"photo": photo.sha256} if photo else {}
    if meant is not None and find_about(car, meant) is not None:
        asked = urlencode({"subject": meant, **with_photo})
        return redirect(f"{reverse('add-finding', args=(car.slug,))}?{asked}")
    fragment = getattr(request, "htmx", False)
    return show(
        request,
        "findings/_subjects.html" if fragment else "findings/choose.html",
        car=car,
        room="findings",
        q=words,
        unknown=unknown,
        photo=photo,
        more=urlencode(with_photo),
        panels=_panels(car, words),
        parts=parts_of(car, words=words)[:PARTS_SHOWN],
        parts_n=parts_of(car, words=words).count(),
    )


def _panels(car: Car, words: str) -> list[str]:
    names = car.panels.values_list("panel", flat=True)
    return [name for name in names if all(w in name.lower() for w in words.lower().split())]
