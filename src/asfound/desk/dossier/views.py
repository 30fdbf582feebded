"""Making a dossier, the list of those made, and fetching one."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import AsfoundError
from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.dossier.made import inputs_sha256, made_lines
from asfound.dossier import make_dossier
from asfound.exchange.photographs import picture_on_shelf
from asfound.record.actions import keep_dossier, open_kept_file
from asfound.record.convert.film_base import band_of
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, film_reading
from asfound.record.folder import CarFolder, KeptFile
from asfound.record.log import head_hash
from asfound.record.models import Car, Dossier
from asfound.record.reads import film_bands
from asfound.record.reads.salvage_used import material_of

DOSSIERS_A_PAGE = 20


@login_required
@require_http_methods(["GET", "POST"])
def dossier(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the car's dossiers; a POST makes one."""
    car = open_car(request, slug)
    fault = ""
    folder = folder_of(car)
    if request.method == "POST":
        refuse_readers(request)
        try:
            _make(request, car, folder)
        except AsfoundError as error:
            fault = str(error)
        else:
            messages.success(request, "The dossier is made.")
            return redirect("dossier", slug)
    made = car.dossiers.select_related("made_by")
    page = Paginator(made, DOSSIERS_A_PAGE).get_page(request.GET.get("page"))
    return show(
        request,
        "dossier/page.html",
        status=422 if fault else 200,
        car=car,
        room="dossier",
        page=page,
        lines=made_lines(page, car, folder),
        fault=fault,
    )


def _make(request: HttpRequest, car: Car, folder: CarFolder) -> Dossier:
    material = material_of(car)
    data = make_dossier(
        folder,
        made_on=timezone.localdate(),
        reading=film_reading(folder) if len(folder.sheet("film")) else None,
        result=choice_result(folder) if len(folder.sheet("options")) else None,
        bands=tuple(band_of(row) for row in film_bands()),
        log_head=head_hash(),
        picture=picture_on_shelf,
        material=material,
    )
    made_from = inputs_sha256(folder, material)
    return keep_dossier(car=car, data=data, inputs_sha256=made_from, by=request.user)


@login_required
@require_GET
def dossier_file(request: HttpRequest, slug: str, pk: int) -> FileResponse:
    """Bytes of a dossier that was made."""
    car = open_car(request, slug)
    made = get_object_or_404(Dossier, car=car, pk=pk)
    name = f"{slug}-{made.made_at:%Y-%m-%d}.pdf"
    kept = KeptFile(path=name, sha256=made.sha256, size=made.size)
    return FileResponse(
        open_kept_file(kept), as_attachment=True, filename=name, content_type="application/pdf"
    )
