"""What was written on a card, corrected or withdrawn with a reason; how it was stays."""

from __future__ import annotations

from functools import partial

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write
from asfound.desk.observed.correcting import correct_row
from asfound.desk.observed.forms import RowForm
from asfound.desk.observed.lines import observed_line
from asfound.desk.work.forms import CorrectMaterialForm, CorrectResultForm, CorrectStretchForm
from asfound.desk.work.told import TOLD
from asfound.record.models import Observation

_FORMS: dict[str, tuple[type[RowForm], str, str]] = {
    "worked": (CorrectStretchForm, "stretch of work", "begun on the wrong card, or told twice."),
    "materials_used": (CorrectMaterialForm, "material", "it was meant for another piece."),
    "results": (CorrectResultForm, "result", "the tool was out of its calibration."),
}


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page that puts a row right."""
    car = open_car_to_write(request, slug)
    row = get_object_or_404(Observation, car=car, pk=pk)
    if row.table not in _FORMS:
        raise Http404(pk)
    form_of, thing, for_example = _FORMS[row.table]
    return correct_row(
        request,
        slug,
        pk,
        form_of=form_of,
        line_of=partial(observed_line, told=TOLD[row.table]),
        page="work-of-piece",
        for_example=for_example,
        room="work",
        thing=thing,
    )
