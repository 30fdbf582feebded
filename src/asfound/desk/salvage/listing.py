"""The list of the stock, filtered as one types, and what cars need of it."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import refuse_readers, show
from asfound.desk.salvage.drawing import left_words
from asfound.record.models import SalvagePhoto, SalvageRow
from asfound.record.reads.salvage import (
    CUT,
    RESERVED,
    THERE,
    USED_UP,
    WITHDRAWN,
    needs_of_person,
    served,
    states_of,
    stock,
    words_met,
)

PIECES_A_PAGE = 40
NEEDS_A_PAGE = 50
SHOWN = {
    THERE: "all that are there",
    RESERVED: "with something reserved",
    CUT: "with something cut off",
    USED_UP: "used up",
    WITHDRAWN: "withdrawn",
}


@login_required
@require_GET
def stock_list(request: HttpRequest) -> HttpResponse:
    """Pieces of the stock; htmx asks for the list alone."""
    refuse_readers(request)
    words, kind = request.GET.get("q", "").strip(), request.GET.get("kind", "")
    only = request.GET.get("only", THERE)
    found = stock(words=words, kind=kind, only=only if only in SHOWN else THERE)
    page = Paginator(found, PIECES_A_PAGE).get_page(request.GET.get("page"))
    asked = request.GET.copy()
    asked.pop("page", None)
    template = "salvage/_list.html" if getattr(request, "htmx", False) else "salvage/list.html"
    return show(
        request,
        template,
        page=page,
        lines=piece_lines(list(page.object_list)),
        q=words,
        kind=kind,
        only=only,
        kinds=words_met("kind"),
        shown=SHOWN.items(),
        query=asked.urlencode(),
    )


def piece_lines(rows: list[SalvageRow]) -> list[dict[str, Any]]:
    """Rows with how much is left and their first photograph, in two queries more."""
    photos: dict[int, int] = {}
    shown = SalvagePhoto.objects.current().filter(piece__in=[row.piece_id for row in rows])
    for piece, pk in shown.order_by("-pk").values_list("piece_id", "pk"):
        photos[piece] = pk
    return [
        {"row": row, "left": left_words(state), "photo": photos.get(row.piece_id)}
        for row, state in zip(rows, states_of(rows), strict=True)
    ]


@login_required
@require_GET
def needs_list(request: HttpRequest) -> HttpResponse:
    """Needs of all cars, with what is reserved for them."""
    refuse_readers(request)
    found = needs_of_person(request.user)
    page = Paginator(found, NEEDS_A_PAGE).get_page(request.GET.get("page"))
    uses = served(page.object_list)
    lines = [(need, uses.get(need.pk, [])) for need in page.object_list]
    return show(request, "salvage/needs.html", page=page, lines=lines)
