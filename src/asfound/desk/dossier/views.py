"""Making a dossier, the list of those made, and fetching one."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import FileResponse, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from asfound.desk.access import open_car, show
from asfound.desk.beside import attend
from asfound.desk.dossier.made import made_lines
from asfound.desk.dossier.making import dossier_key, set_dossier
from asfound.record.actions import open_kept_file
from asfound.record.convert.stored import folder_of
from asfound.record.folder import KeptFile
from asfound.record.models import Dossier

DOSSIERS_A_PAGE = 20


@login_required
@require_http_methods(["GET", "POST"])
def dossier(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the car's dossiers, or what of it changes while one is made, which a POST begins."""
    car = open_car(request, slug)
    making = attend(
        request,
        set_dossier,
        key=dossier_key(car),
        car=slug,
        by=request.user.pk,
        since=timezone.now().isoformat(),
    )
    is_part = getattr(request, "htmx", False)
    if request.method == "POST" and not is_part:
        return redirect("dossier", slug)
    made = car.dossiers.select_related("made_by")
    page = Paginator(made, DOSSIERS_A_PAGE).get_page(request.GET.get("page"))
    return show(
        request,
        "dossier/_made.html" if is_part else "dossier/page.html",
        car=car,
        room="dossier",
        making=making,
        page=page,
        lines=made_lines(page, car, folder_of(car)),
    )


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
