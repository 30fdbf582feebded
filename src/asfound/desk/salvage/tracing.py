"""A piece traced over a photograph: its edge, flaws and nap, with the perspective taken out."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import refuse_readers, show
from asfound.desk.salvage.finding import find_row
from asfound.desk.salvage.traced import (
    FLAWS,
    SalvageTraceForm,
    TracedPiece,
    drawn,
    gone_to,
    traced_of,
    wkt,
)
from asfound.record.actions.salvage import correct_piece
from asfound.record.models import SalvageRow


@login_required
@require_http_methods(["GET", "POST"])
def trace(request: HttpRequest, number: str) -> HttpResponse:
    """Page that takes the points; the answer to them is a fragment, so that the photo stays."""
    refuse_readers(request)
    row = find_row(number)
    form = SalvageTraceForm(request.POST or None, initial={"seen": row.pk, "nap": row.nap})
    traced = traced_of(form) if form.is_valid() else None
    if traced and request.POST.get("step") == "keep" and _keep(request, row, form, traced):
        return gone_to(request, reverse("salvage-piece", args=(number,)))
    fragment = bool(getattr(request, "htmx", False))
    return show(
        request,
        "salvage/_traced.html" if fragment else "salvage/trace.html",
        status=422 if form.errors and not fragment else 200,
        row=row,
        form=form,
        traced=traced,
        drawn=drawn(row.name, form, traced) if traced else "",
        photos=row.piece.photos.filter(superseded_by=None, withdrawn_at=None),
        flaws=FLAWS,
    )


def _keep(
    request: HttpRequest, row: SalvageRow, form: SalvageTraceForm, traced: TracedPiece
) -> bool:
    seen = get_object_or_404(SalvageRow, pk=form.cleaned_data["seen"], piece=row.piece)
    cells = {
        "outline_wkt": wkt(traced.outline),
        "nap": form.cleaned_data["nap"],
        "nap_deg": "" if traced.nap_deg is None else f"{traced.nap_deg:g}",
    }
    defects = [{"kind": kind, "outline_wkt": wkt(area)} for kind, area in traced.defects]
    try:
        correct_piece(
            row=seen,
            cells=cells,
            defects=defects,
            reason="traced over a photograph",
            by=request.user,
        )
    except InputError as error:
        form.add_error(None, f"{error.got}; must be {error.allowed}. {error.remedy}")
        return False
    messages.success(request, f"{row} is traced: {traced.area_dm2:.1f} dm².")
    return True
