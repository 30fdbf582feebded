"""One panel: its wedge map, its areas, its readings, and entering a spot before and after."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.base import AsfoundError
from asfound.craft.cautions import DEFER
from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.observed.answering import is_for_script, kept_answer, refused_answer
from asfound.desk.observed.keeping import keep_row
from asfound.desk.observed.lines import observed_lists
from asfound.desk.polish.forms import PolishForm
from asfound.desk.polish.lines import area_lines, told
from asfound.desk.polish.page import CAUTIONS, asked_chance, panel_names, wedges
from asfound.desk.polish.spots import KnownSpot, known_spots, new_name
from asfound.dossier.figures import panel_svg
from asfound.record.convert.stored import folder_of
from asfound.record.derived import polish_reading
from asfound.record.folder import CarFolder
from asfound.record.models import Car

_SHARED = ("process", "gauge", "area", "passes")
"""What the next spot shares with the last one, until somebody changes it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Here:
    """The panel that a page is about, its neighbours, and the spots it has."""

    panel: str
    before: str
    after: str
    known: dict[str, KnownSpot]
    new_name: str


@login_required
@require_http_methods(["GET", "POST"])
def panel(request: HttpRequest, slug: str, panel: str) -> HttpResponse:
    """Page of a panel, or a spot that was entered on it."""
    car = open_car(request, slug)
    folder = folder_of(car)
    here = _here(folder, panel)
    if request.method != "POST":
        return _page(
            request, car, folder, here, _form(here, folder, initial=_initial(request, here, folder))
        )
    refuse_readers(request)
    form = _form(here, folder, data=request.POST)
    if not form.is_valid():
        if is_for_script(request):
            return refused_answer(form)
        return _page(request, car, folder, here, form, status=422)
    keep_row(request, car, form, told=told)
    return kept_answer(request, f"{reverse('polish-panel', args=(car.slug, here.panel))}#entry")


def _here(folder: CarFolder, name: str) -> _Here:
    names = panel_names(folder)
    if name not in names:
        raise Http404(name)
    i = names.index(name)
    return _Here(
        panel=name,
        before=names[i - 1] if i else "",
        after=names[i + 1] if i + 1 < len(names) else "",
        known=known_spots(folder, name),
        new_name=new_name(folder, name),
    )


def _form(here: _Here, folder: CarFolder, **given: Any) -> PolishForm:
    fixed = {"panel": here.panel}
    return PolishForm(folder=folder, fixed=fixed, known=here.known, new_name=here.new_name, **given)


def _initial(request: HttpRequest, here: _Here, folder: CarFolder) -> dict[str, str]:
    """What the last spot of the car shares, then what the address names."""
    rows = list(folder.sheet("polish"))
    last = rows[-1] if rows else None
    initial = {name: last.text(name) for name in _SHARED} if last else {"passes": "1"}
    if last and last.text("panel") != here.panel:
        initial["area"] = ""
    spot = here.known.get(request.GET.get("spot", ""))
    if spot:
        initial |= {
            "spot": spot.spot,
            "before_um": spot.film_um,
            "x_mm": spot.x_mm,
            "y_mm": spot.y_mm,
            "area": spot.area or initial.get("area", ""),
        }
    return initial


def _page(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    here: _Here,
    form: PolishForm,
    *,
    status: int = 200,
) -> HttpResponse:
    gauges = [row.text("gauge") for t in ("shims", "film", "polish") for row in folder.sheet(t)]
    return show(
        request,
        "polish/panel.html",
        status=status,
        car=car,
        room="survey",
        here=here,
        entry=form,
        after=form.after_as_typed(),
        gauges=[name for name in dict.fromkeys(gauges) if name],
        processes=_used(folder, "process"),
        areas_used=_used(folder, "area"),
        cautions=CAUTIONS,
        defer=DEFER,
        **_told(request, folder, here),
        **observed_lists(car, "polish", told=told, subject=here.panel),
    )


def _used(folder: CarFolder, column: str) -> list[str]:
    rows = [row.text(column) for row in folder.sheet("polish")]
    return [name for name in dict.fromkeys(rows) if name]


def _told(request: HttpRequest, folder: CarFolder, here: _Here) -> dict[str, Any]:
    """Picture and areas; a panel that nobody polished shows its spots alone."""
    _, asked = asked_chance(request)
    try:
        result = polish_reading(folder, stay_probability=asked)
    except AsfoundError as error:
        return {"refusal": str(error), "figure": _bare(folder, here)}
    areas = area_lines(result, panel=here.panel)
    picture = wedges(folder, result, here.panel) if areas else ""
    return {"areas": areas, "asked": asked, "figure": picture or _bare(folder, here)}


def _bare(folder: CarFolder, here: _Here) -> str:
    try:
        return panel_svg(folder, None, here.panel)
    except AsfoundError:
        return ""
