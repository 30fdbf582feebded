"""Correcting or withdrawing a gap."""

from __future__ import annotations

from functools import partial

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from asfound.desk.gaps.forms import GapCorrectionForm
from asfound.desk.gaps.lines import told
from asfound.desk.observed.correcting import correct_row
from asfound.desk.observed.lines import observed_line


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of one reading with its two forms."""
    return correct_row(
        request,
        slug,
        pk,
        form_of=GapCorrectionForm,
        line_of=partial(observed_line, told=told),
        page="edge",
        for_example="the door was not latched, or the car stood on a jack.",
    )
