"""Correcting or withdrawing a colour reading."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from asfound.desk.colour.forms import ColourCorrectionForm
from asfound.desk.colour.readings import colour_line
from asfound.desk.observed.correcting import correct_row


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of one reading with its two forms."""
    return correct_row(
        request,
        slug,
        pk,
        form_of=ColourCorrectionForm,
        line_of=colour_line,
        page="colour",
        by_subject=False,
        template="colour/correct.html",
        for_example="the instrument rocked, or stood on dirt or wax.",
        thing="colour reading",
    )
