"""Describing a piece anew, moving it, withdrawing it; what was said before stays."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods, require_POST

from asfound.desk.access import refuse_readers, show
from asfound.desk.salvage.adding import offers
from asfound.desk.salvage.finding import find_row
from asfound.desk.salvage.forms import EditForm
from asfound.desk.undo import offer_workshop_undo
from asfound.record.actions.salvage import correct_piece, move_piece, withdraw_piece
from asfound.record.convert.salvage_rows import cells_of
from asfound.record.models import SalvageRow
from asfound.record.tables.salvage import PIECES

EditForm.table = PIECES


@login_required
@require_http_methods(["GET", "POST"])
def edit(request: HttpRequest, number: str) -> HttpResponse:
    """Form for what is known of a piece; a change by somebody else is not overwritten."""
    refuse_readers(request)
    row = find_row(number)
    form = EditForm(request.POST or None, initial={**cells_of(row), "seen": row.pk})
    if request.method == "POST" and form.is_valid():
        seen = get_object_or_404(SalvageRow, pk=form.cleaned_data["seen"], piece=row.piece)
        correct_piece(
            row=seen,
            cells=form.cleaned_data["cells"],
            reason=form.cleaned_data["reason"],
            by=request.user,
        )
        messages.success(request, f"{row} is changed; what was said before is kept.")
        return redirect("salvage-piece", number)
    return show(
        request,
        "salvage/edit.html",
        status=422 if form.errors else 200,
        row=row,
        form=form,
        **offers(request.user),
    )


@login_required
@require_POST
def move(request: HttpRequest, number: str) -> HttpResponse:
    """Put a piece into a place."""
    refuse_readers(request)
    row = find_row(number)
    place = request.POST.get("place", "").strip()
    move_piece(row=row, place=place, by=request.user)
    messages.success(request, f"{row} is now in {place}.")
    return redirect("salvage-piece", number)


@login_required
@require_POST
def withdraw(request: HttpRequest, number: str) -> HttpResponse:
    """Offer a piece no longer; it stays in the record with the reason."""
    refuse_readers(request)
    row = find_row(number)
    withdraw_piece(row=row, reason=request.POST.get("reason", ""), by=request.user)
    said = f"{row} is offered no longer; it stays in the record with the reason."
    offer_workshop_undo(request, said, kind="salvage-piece", pk=row.pk)
    return redirect("salvage-piece", number)
