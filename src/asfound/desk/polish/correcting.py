"""Correcting or withdrawing what was read before and after polishing."""

from __future__ import annotations

from functools import partial

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from asfound.desk.observed.correcting import correct_row
from asfound.desk.observed.lines import observed_line
from asfound.desk.polish.forms import PolishCorrectionForm
from asfound.desk.polish.lines import told


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of one reading with its two forms."""
    return correct_row(
        request,
        slug,
        pk,
        form_of=PolishCorrectionForm,
        line_of=partial(observed_line, told=told),
        page="polish-panel",
        for_example="the gauge stood beside the spot, or the spot was still warm or wet.",
    )
