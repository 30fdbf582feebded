"""Moving the limits of the brief."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.decisions.forms import BriefForm, initial_of_brief
from asfound.desk.decisions.remembered import set_totals_aside
from asfound.record.actions import set_brief
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder

_HOURS = "hours_"


@login_required
@require_http_methods(["GET", "POST"])
def edit_brief(request: HttpRequest, slug: str) -> HttpResponse:
    """Form of the brief; each change is kept beside those before it."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    content = dict(folder.brief or {})
    form = BriefForm(
        request.POST or None,
        trades=_trades(folder),
        zones=_zones(folder),
        currency=car.currency,
        initial=initial_of_brief(content),
    )
    if form.is_valid():
        set_brief(car=car, content=form.content(content), by=request.user)
        set_totals_aside(request, car)
        messages.success(request, "The brief is kept; the choice below follows it.")
        return redirect("decisions", slug)
    status = 422 if form.errors else 200
    return show(
        request, "decisions/brief.html", status=status, car=car, room="decisions", form=form
    )


def _trades(folder: CarFolder) -> list[str]:
    """Trades that the options or the brief name."""
    columns = folder.sheet("options").columns
    named = [column.removeprefix(_HOURS) for column in columns if column.startswith(_HOURS)]
    return list(dict.fromkeys([*named, *((folder.brief or {}).get("hours_max") or {})]))


def _zones(folder: CarFolder) -> list[str]:
    """Zones that the subjects or the brief name."""
    named = [row.text("zone") for row in folder.sheet("subjects") if row.text("zone")]
    return list(dict.fromkeys([*named, *((folder.brief or {}).get("min_grade") or {})]))
