"""What the words typed are found in: parts, places, findings."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.desk.access import show
from asfound.desk.errands.lines import out_words
from asfound.record.reads.search import search


@login_required
@require_GET
def search_page(request: HttpRequest) -> HttpResponse:
    """Page of the search; htmx asks for what was found alone."""
    words = request.GET.get("q", "")
    template = "search/_found.html" if getattr(request, "htmx", False) else "search/page.html"
    found = search(words, by=request.user)
    return show(request, template, q=words, found=found, outs=out_words(found.parts))
