"""Entering a piece at the bench: a photograph, what it is, where it lies, and on to the next."""

from __future__ import annotations

from typing import Any, Literal

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods

from asfound.desk.access import refuse_readers, show
from asfound.desk.photos.forms import MOST_BYTES
from asfound.desk.salvage.forms import KINDS, AddForm
from asfound.exchange.photographs import ReadIn, read_in
from asfound.record.actions.salvage import add_piece
from asfound.record.actions.salvage_photo import keep_salvage_photo
from asfound.record.faults import Fault
from asfound.record.models import Place, SalvagePiece, SalvageRow
from asfound.record.reads import cars_for
from asfound.record.reads.salvage import words_met
from asfound.record.tables.salvage import PIECES

AddForm.table = PIECES
KEPT_ON_THE_FORM = ("kind", "place", "source_car", "made")


@login_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest) -> HttpResponse:
    """Form that keeps kind, place and car from one piece to the next."""
    refuse_readers(request)
    initial = {name: request.GET.get(name, "") for name in KEPT_ON_THE_FORM}
    form = AddForm(request.POST or None, request.FILES or None, initial=initial)
    if request.method == "POST" and form.is_valid() and (photo := photo_of(form)) is not False:
        piece = _enter(form, photo, request.user)
        messages.success(request, f"{form.cleaned_data['name']} is kept as {piece.number}.")
        again = {n: form.cleaned_data[n] for n in KEPT_ON_THE_FORM if form.cleaned_data[n]}
        again["last"] = piece.number
        return redirect(f"{reverse('add-salvage')}?{urlencode(again)}")
    last = SalvageRow.objects.filter(
        piece__number=request.GET.get("last", ""), superseded_by=None
    ).first()
    return show(
        request,
        "salvage/add.html",
        status=422 if form.errors else 200,
        form=form,
        last=last,
        **offers(request.user),
    )


def photo_of(form: Any) -> ReadIn | Literal[False] | None:
    """Photograph on the shelf, or none; ``False`` once the form says why it is not taken."""
    sent = form.cleaned_data.get("photo")
    if sent is None:
        return None
    if (sent.size or 0) > MOST_BYTES:
        most = MOST_BYTES / 1e6
        form.add_error("photo", f"{sent.name} is larger than {most:.0f} MB. Nothing was written.")
        return False
    got = read_in(sent.name, sent.file)
    if isinstance(got, Fault):
        form.add_error("photo", f"{got.file}: {got.rule}. {got.remedy} Nothing was written.")
        return False
    return got


def keep_photo_of(piece: SalvagePiece, photo: ReadIn, by: Any) -> None:
    """The piece has the photograph that is on the shelf."""
    keep_salvage_photo(
        piece=piece,
        sha256=photo.sha256,
        size=photo.size,
        suffix=photo.about.suffix,
        taken_at=photo.about.taken_at,
        by=by,
    )


def _enter(form: AddForm, photo: ReadIn | None, by: Any) -> SalvagePiece:
    data = form.cleaned_data
    with transaction.atomic():
        piece = add_piece(cells=data["cells"], key=data["key"], by=by)
        if photo is not None:
            keep_photo_of(piece, photo, by)
    return piece


def offers(by: Any) -> dict[str, Any]:
    """Words met before, for lists beside the fields."""
    cars = [str(car) for car in cars_for(by)[:200]]
    places = Place.objects.filter(withdrawn_at=None).values_list("name", flat=True)
    return {
        "kinds": list(dict.fromkeys([*words_met("kind"), *KINDS])),
        "names": words_met("name"),
        "source_cars": list(dict.fromkeys([*words_met("source_car"), *cars])),
        "places": list(dict.fromkeys([*places, *words_met("place")])),
    }
