"""Keeping one reading that was entered on a page, once only, and saying so."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest

from asfound.desk.observed.answering import pressed_at
from asfound.desk.observed.forms import RowForm
from asfound.desk.observed.lines import Told
from asfound.record.actions import add_observations
from asfound.record.convert.worked import written
from asfound.record.models import Car


def keep_row(request: HttpRequest, car: Car, form: RowForm, *, told: Told) -> dict[str, str]:
    """Cells of the row of a valid form, kept with who entered it and when."""
    cells = {
        **{name: text for name, text in form.cleaned_data["cells"].items() if text},
        "taken_at": written(pressed_at(request)),
        "by": request.user.get_username(),
    }
    key = form.cleaned_data["key"]
    kept = add_observations(car=car, table=form.table, rows=[cells], by=request.user, key=key)
    if kept:
        messages.success(request, f"Kept: {told(cells)}.")
    else:
        messages.info(request, f"This reading was kept already: {told(cells)}.")
    return cells
