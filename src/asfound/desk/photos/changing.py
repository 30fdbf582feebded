"""Photographs sorted anew, marked, laid beside an earlier one, withdrawn: never overwritten."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from asfound.base import InputError
from asfound.desk.access import open_car_to_write
from asfound.desk.photos.forms import SortAgainForm, WithdrawForm
from asfound.desk.photos.photo import photo_page
from asfound.desk.photos.pictures import find_photo
from asfound.desk.undo import offer_undo
from asfound.record.actions import change_photo, withdraw_photo
from asfound.record.convert.photo_marks import Mark, marks_of, marks_text
from asfound.record.models import Car, Photo

_LONGEST_MARKS = 200_000


def _opened(request: HttpRequest, slug: str, sha256: str) -> tuple[Car, Photo]:
    """Row of the photograph as the person saw it; changed meanwhile, the action refuses it."""
    car = open_car_to_write(request, slug)
    seen = request.POST.get("seen", "")
    if seen.isdecimal():
        return car, get_object_or_404(Photo, car=car, sha256=sha256, pk=int(seen[:15]))
    return car, find_photo(car, sha256)


@login_required
@require_POST
def sort(request: HttpRequest, slug: str, sha256: str) -> HttpResponse:
    """Another subject, view or stage, with the reason."""
    car, photo = _opened(request, slug, sha256)
    form = SortAgainForm(request.POST, car=car)
    if not form.is_valid():
        return photo_page(request, car, photo, sort=form)
    change_photo(photo=photo, by=request.user, **form.cleaned_data)
    said = "The photograph is sorted anew; how it stood before is kept."
    offer_undo(request, said, car=car, kind="photo-change", pk=photo.pk)
    return redirect("photo", slug, sha256)


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, sha256: str) -> HttpResponse:
    """Show the photograph no longer; its bytes stay."""
    car, photo = _opened(request, slug, sha256)
    form = WithdrawForm(request.POST)
    if not form.is_valid():
        return photo_page(request, car, photo, withdraw=form)
    withdraw_photo(photo=photo, by=request.user, **form.cleaned_data)
    said = "The photograph is withdrawn; its bytes and the reason are kept."
    offer_undo(request, said, car=car, kind="photo", pk=photo.pk)
    return redirect("photos", slug)


@login_required
@require_POST
def pair_with(request: HttpRequest, slug: str, sha256: str) -> HttpResponse:
    """Say which earlier photograph this one is laid over; none takes the pair apart."""
    car, photo = _opened(request, slug, sha256)
    chosen = request.POST.get("earlier", "")
    earlier = find_photo(car, chosen) if chosen else None
    if earlier is not None and earlier.sha256 == photo.sha256:
        return photo_page(request, car, photo, refusal="Choose another photograph than this one.")
    file = earlier.file if earlier else ""
    if file != photo.pair:
        reason = f"laid over {file}" if file else "no longer laid over another"
        change_photo(photo=photo, pair=file, reason=reason, by=request.user)
        said = f"The photograph is {reason}."
        offer_undo(request, said, car=car, kind="photo-change", pk=photo.pk)
    return redirect("photo", slug, sha256)


@login_required
@require_POST
def mark(request: HttpRequest, slug: str, sha256: str) -> HttpResponse:
    """Marks drawn on the page, or one told by its numbers."""
    car, photo = _opened(request, slug, sha256)
    try:
        text = marks_text(_marks(request, photo))
    except InputError as error:
        return photo_page(request, car, photo, refusal=str(error))
    if text != photo.marks:
        change_photo(photo=photo, marks=text, reason="marks drawn", by=request.user)
        said = "The marks are kept; the photograph itself is as it was."
        offer_undo(request, said, car=car, kind="photo-change", pk=photo.pk)
    return redirect("photo", slug, sha256)


def _marks(request: HttpRequest, photo: Photo) -> tuple[Mark, ...]:
    """All marks as the script sends them, or those that were there with one more or fewer."""
    if "marks" in request.POST:
        return marks_of(request.POST["marks"][:_LONGEST_MARKS])
    there = marks_of(photo.marks)
    away = request.POST.get("away", "")
    if away.isdecimal():
        return tuple(m for n, m in enumerate(there, 1) if n != int(away[:4]))
    return (*there, _typed_mark(request.POST))


def _typed_mark(sent: Any) -> Mark:
    """Mark from numbers in per cent, for who does not draw."""
    kind = sent.get("kind", "")
    names = (("x1", "y1"),) if kind == "words" else (("x1", "y1"), ("x2", "y2"))
    points = tuple((_share(sent, x), _share(sent, y)) for x, y in names)
    return Mark(kind=kind, points=points, words=sent.get("words", "").strip())


def _share(sent: Any, name: str) -> float:
    typed = sent.get(name, "").strip().replace(",", ".")
    try:
        return float(typed) / 100
    except ValueError:
        raise InputError(
            field=name, got=typed, allowed="a number from 0 to 100, per cent of the picture"
        ) from None
