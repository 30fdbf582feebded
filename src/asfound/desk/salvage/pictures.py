"""Photographs of pieces."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_GET, require_POST

from asfound.desk.access import refuse_readers
from asfound.desk.photos.lines import SIZES
from asfound.desk.photos.pictures import unchanging
from asfound.desk.salvage.adding import keep_photo_of, photo_of
from asfound.desk.salvage.finding import find_row
from asfound.desk.undo import offer_workshop_undo
from asfound.exchange.photographs import kept_picture
from asfound.record.actions.salvage_photo import withdraw_salvage_photo
from asfound.record.models import SalvagePhoto


class PhotoForm(forms.Form):
    """One photograph."""

    photo = forms.FileField()


@login_required
@require_POST
def add(request: HttpRequest, number: str) -> HttpResponse:
    """One more photograph of a piece."""
    refuse_readers(request)
    row = find_row(number)
    form = PhotoForm(request.POST, request.FILES)
    photo = photo_of(form) if form.is_valid() else None
    if not photo:
        told = form.errors.get("photo", ["No photograph is chosen yet."])[0]
        messages.warning(request, f"{told}")
    else:
        keep_photo_of(row.piece, photo, request.user)
        messages.success(request, "The photograph is kept.")
    return redirect("salvage-piece", number)


@login_required
@require_GET
def picture(request: HttpRequest, pk: int, size: str) -> HttpResponse | FileResponse:
    """Picture without where and with what it was taken."""
    refuse_readers(request)
    photo = get_object_or_404(SalvagePhoto, pk=pk, withdrawn_at=None)
    if size not in SIZES:
        raise Http404(size)
    try:
        place = kept_picture(photo.sha256, longest_px=SIZES[size])
    except (OSError, ValueError):
        raise Http404(str(pk)) from None
    return unchanging(request, place)


@login_required
@require_POST
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a photograph no longer; its bytes stay."""
    refuse_readers(request)
    photo = get_object_or_404(SalvagePhoto.objects.select_related("piece"), pk=pk)
    withdraw_salvage_photo(photo=photo, reason=request.POST.get("reason", ""), by=request.user)
    said = "The photograph is shown no longer; its bytes are kept."
    offer_workshop_undo(request, said, kind="salvage-photo", pk=photo.pk)
    return redirect("salvage-piece", photo.piece.number)
