"""The list of parts: filtered as one types, an assembly at a time or all, in pages."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import may_write, open_car, show
from asfound.desk.errands.lines import out_words
from asfound.record.reads.lent import borrowed_by
from asfound.record.reads.register import parts_of

PARTS_A_PAGE = 50
SHOWN = {
    "there": "all that are there",
    "missing": "without a place",
    "safety": "bearing on safety",
    "lent": "lent to another car",
    "gone": "split, merged, replaced",
    "all": "every entry",
}


@login_required
@require_GET
def register(request: HttpRequest, slug: str) -> HttpResponse:
    """Parts of a car; htmx asks for the list alone."""
    car = open_car(request, slug)
    words, only = request.GET.get("q", "").strip(), request.GET.get("only", "there")
    within = request.GET.get("within")
    found = parts_of(car, words=words, within=within, only=only if only in SHOWN else "there")
    page = Paginator(found, PARTS_A_PAGE).get_page(request.GET.get("page"))
    template = "register/_list.html" if getattr(request, "htmx", False) else "register/list.html"
    asked = request.GET.copy()
    asked.pop("page", None)
    return show(
        request,
        template,
        car=car,
        room="parts",
        page=page,
        outs=out_words(page.object_list),
        q=words,
        only=only,
        within=within,
        shown=SHOWN.items(),
        query=asked.urlencode(),
        borrowed=borrowed_by(car) if may_write(request) else (),
    )
