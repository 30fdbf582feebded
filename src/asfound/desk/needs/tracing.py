"""What is needed, traced over a photograph of the old piece or of its pattern."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.needs.need import find_need
from asfound.desk.salvage.traced import (
    SalvageTraceForm,
    TracedPiece,
    drawn,
    gone_to,
    traced_of,
    wkt,
)
from asfound.record.actions.need import correct_need
from asfound.record.models import Observation


@login_required
@require_http_methods(["GET", "POST"])
def trace(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page that takes the points; the answer to them is a fragment, so that the photo stays."""
    car = open_car_to_write(request, slug)
    found = find_need(car, pk)
    nap = "one way" if found.cells.get("nap_deg") else ""
    form = SalvageTraceForm(request.POST or None, initial={"seen": found.pk, "nap": nap})
    traced = traced_of(form) if form.is_valid() else None
    if traced and request.POST.get("step") == "keep":
        new = _keep(request, found, traced)
        return gone_to(request, reverse("need", args=(slug, new.pk)))
    fragment = bool(getattr(request, "htmx", False))
    return show(
        request,
        "salvage/_traced.html" if fragment else "needs/trace.html",
        status=422 if form.errors and not fragment else 200,
        car=car,
        room="parts",
        need=found,
        cells=found.cells,
        form=form,
        traced=traced,
        drawn=drawn(found.cells["need"], form, traced) if traced else "",
    )


def _keep(request: HttpRequest, found: Observation, traced: TracedPiece) -> Observation:
    cells = {"outline_wkt": wkt(traced.outline)}
    if traced.nap_deg is not None:
        cells["nap_deg"] = f"{traced.nap_deg:g}"
    new = correct_need(need=found, cells=cells, reason="traced over a photograph", by=request.user)
    messages.success(request, f"{found.cells['need']} is traced: {traced.area_dm2:.1f} dm².")
    return new
