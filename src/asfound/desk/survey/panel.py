"""One panel: its figure, its reading, its observations, and entering more of them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.base import AsfoundError
from asfound.desk.access import open_car, open_rooms, refuse_readers, show
from asfound.desk.colour.both import with_colour
from asfound.desk.findings.lines import lines_on
from asfound.desk.observed.answering import is_for_script, pressed_at, refused_answer
from asfound.desk.photos.beside import photos_beside
from asfound.desk.survey.beside import beside
from asfound.desk.survey.entering import enter_spot
from asfound.desk.survey.finish import read_finish
from asfound.desk.survey.forms import SpotForm
from asfound.desk.survey.lines import panel_line
from asfound.desk.survey.readings import SHOWN, next_spot, reading_line, spot_lines
from asfound.desk.tables.fault_words import in_words
from asfound.dossier.figures import panel_svg
from asfound.measure.film import FilmReading
from asfound.record.convert.film import panels_of
from asfound.record.convert.stored import folder_of
from asfound.record.convert.worked import written
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.models.release import OwnersRoom
from asfound.record.reads import readings_of_panel
from asfound.record.results.film import TWO_SIDED


@dataclass(frozen=True, slots=True, kw_only=True)
class Here:
    """The panel that a page is about, and its neighbours in the order of the car."""

    panel: str
    section: str
    substrate: str
    before: str
    after: str


@login_required
@require_http_methods(["GET", "POST"])
def panel(request: HttpRequest, slug: str, panel: str) -> HttpResponse:
    """Page of a panel, its fragment, or a spot that was entered on it."""
    car = open_car(request, slug)
    folder = folder_of(car)
    here = _here(folder, panel)
    if request.method == "POST":
        refuse_readers(request)
        return _take(request, car, folder, here)
    if getattr(request, "htmx", False):
        return show(request, "survey/_panel.html", **_state(request, car, folder, here))
    return _page(request, car, folder, here, SpotForm(initial=_from_address(request, folder)))


def _here(folder: CarFolder, name: str) -> Here:
    names = [drawn.panel for drawn in panels_of(folder)]
    if name not in names:
        raise Http404(name)
    i = names.index(name)
    row = next((row for row in folder.sheet("panels") if row.text("panel") == name), None)
    return Here(
        panel=name,
        section=row.text("section") if row else "",
        substrate=row.text("substrate") if row else "unknown",
        before=names[i - 1] if i else "",
        after=names[i + 1] if i + 1 < len(names) else "",
    )


def _from_address(request: HttpRequest, folder: CarFolder) -> dict[str, Any]:
    """The gauge used last, and the place that a link names, such as one to measure next."""
    place = {k: request.GET[k][:20] for k in ("x", "y") if k in request.GET}
    return {"x_mm": place.get("x"), "y_mm": place.get("y"), "gauge": (_gauges(folder) or [""])[-1]}


def _take(request: HttpRequest, car: Car, folder: CarFolder, here: Here) -> HttpResponse:
    """A spot is kept and answered as the sender asked: for a script, or with a page."""
    form = SpotForm(request.POST)
    if form.is_valid():
        try:
            entered = enter_spot(
                car=car,
                panel=here.panel,
                by=request.user,
                taken_at=written(pressed_at(request)),
                **form.cleaned_data,
            )
        except InputFaultsError as error:
            for fault in error.faults:
                told = in_words(fault, table="film")
                form.add_error(None, f"{told.rule}. {told.remedy}")
        else:
            if is_for_script(request):
                following = next_spot(_spots(folder_of(car), here))
                answer = {"said": entered.said, "spot": entered.spot, "next_spot": following}
                return JsonResponse(answer)
            messages.success(request, f"{entered.said} Tap the next place.")
            return redirect("panel", car.slug, here.panel)
    if is_for_script(request):
        return refused_answer(form)
    return _page(request, car, folder, here, form, status=422)


def _page(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    here: Here,
    entry: SpotForm,
    *,
    status: int = 200,
) -> HttpResponse:
    return show(
        request,
        "survey/panel.html",
        status=status,
        room="survey",
        entry=entry,
        thickness=entry.thickness_as_typed(),
        next_spot=next_spot(_spots(folder, here)),
        gauges=list(dict.fromkeys(_gauges(folder))),
        **photos_beside(car, here.panel),
        **_state(request, car, folder, here),
    )


def _spots(folder: CarFolder, here: Here) -> list[str]:
    return [row.text("spot") for row in folder.sheet("film") if row.text("panel") == here.panel]


def _gauges(folder: CarFolder) -> list[str]:
    named = [row.text("gauge") for name in ("shims", "film") for row in folder.sheet(name)]
    return [gauge for gauge in named if gauge]


def _state(request: HttpRequest, car: Car, folder: CarFolder, here: Here) -> dict[str, Any]:
    """Figure, reading and observations: what changes when a spot is entered."""
    sees_findings = OwnersRoom.PARTS in open_rooms(request, car)
    lines_found = lines_on(car, here.panel) if sees_findings else []
    found = [one.numbered for one in lines_found]
    observed = readings_of_panel(car, here.panel)
    lines = [reading_line(r) for r in observed.order_by("-position", "-pk")[:SHOWN]]
    context: dict[str, Any] = {
        "car": car,
        "here": here,
        "spots": spot_lines(lines),
        "struck": [line for line in lines if line.fate],
        "shown_n": len(lines),
        "readings_n": observed.count(),
        "two_sided": TWO_SIDED,
        "found": lines_found,
    }
    try:
        reading = read_finish(folder)
    except AsfoundError as error:
        figure = panel_svg(folder, None, here.panel, findings=found)
        away = {"refusal": str(error), "beside": beside(car, folder, None)}
        return {**context, **away, "figure": figure}
    return {
        **context,
        **_told(reading, here),
        "beside": beside(car, folder, reading, panel=here.panel),
        "with_colour": with_colour(folder, reading, here.panel),
        "figure": panel_svg(folder, reading, here.panel, findings=found),
    }


def _told(reading: FilmReading, here: Here) -> dict[str, Any]:
    found = next(p for p in reading.panels if p.panel == here.panel)
    kinds = sorted(found.kinds.items(), key=lambda kind: -kind[1])
    return {
        "line": panel_line(found),
        "kinds": [(kind, p) for kind, p in kinds if p >= 0.01],
        "areas": found.areas,
        "next_here": [spot for spot in reading.next_spots if spot.panel == here.panel],
    }
