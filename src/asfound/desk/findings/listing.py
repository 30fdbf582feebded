"""The list of a car's findings: filtered as one types, in pages, with the car unfolded above."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.craft.conditions import SEVERITIES
from asfound.desk.access import open_car, show
from asfound.desk.findings.lines import finding_lines
from asfound.desk.findings.sheet import findings_sheet
from asfound.record.reads.findings import found_by_words

FINDINGS_A_PAGE = 50
ORDERS = {"worst": "gravest first", "newest": "latest first", "subject": "by part and panel"}


@login_required
@require_GET
def findings(request: HttpRequest, slug: str) -> HttpResponse:
    """Findings of a car; htmx asks for the list with its drawing alone."""
    car = open_car(request, slug)
    words, order = request.GET.get("q", "").strip(), request.GET.get("order", "worst")
    least = request.GET.get("least", "")
    found = found_by_words(
        car, words, least=float(least) if least in {"1", "2", "3", "4"} else 0, order=order
    )
    page = Paginator(found, FINDINGS_A_PAGE).get_page(request.GET.get("page"))
    lines = finding_lines(
        car, page, numbers=range(page.start_index(), page.start_index() + len(page.object_list))
    )
    asked = request.GET.copy()
    asked.pop("page", None)
    fragment = getattr(request, "htmx", False)
    return show(
        request,
        "findings/_list.html" if fragment else "findings/list.html",
        car=car,
        room="findings",
        page=page,
        lines=lines,
        sheet=findings_sheet(car, lines),
        q=words,
        order=order,
        orders=ORDERS.items(),
        least=least,
        severities=SEVERITIES,
        query=asked.urlencode(),
    )
