"""The polishing of a car: what passes take, and a wedge map of every polished panel."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.craft.cautions import DEFER, cautions_for
from asfound.desk.access import open_car, show
from asfound.desk.polish.forms import AskForm
from asfound.desk.polish.lines import AreaLines, area_lines, removal_lines
from asfound.dossier.figures import wedge_svg
from asfound.measure.polish import STAY_PROBABILITY, PolishResult
from asfound.record.convert.film import panels_of
from asfound.record.convert.stored import folder_of
from asfound.record.derived import polish_reading
from asfound.record.folder import CarFolder

CAUTIONS = tuple(c for c in cautions_for(["polish"]) if c.called_by)


@login_required
@require_GET
def polish(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the polishing."""
    car = open_car(request, slug)
    folder = folder_of(car)
    ask, asked = asked_chance(request)
    context: dict[str, Any] = {
        "ask": ask,
        "cautions": CAUTIONS,
        "defer": DEFER,
        "readings_n": len(folder.sheet("polish")),
        "choices": panel_names(folder),
    }
    try:
        result = polish_reading(folder, stay_probability=asked)
    except AsfoundError as error:
        context["refusal"] = str(error)
    else:
        context |= {
            "asked": asked,
            "removals": removal_lines(result),
            "panels": panels_told(folder, result),
        }
    return show(request, "polish/page.html", car=car, room="survey", **context)


def asked_chance(request: HttpRequest) -> tuple[AskForm, float]:
    """The form of the asked chance, and the chance as a share; the usual one if none is asked."""
    usual = {"chance": f"{100 * STAY_PROBABILITY:g}"}
    form = AskForm(request.GET if "chance" in request.GET else usual)
    return form, form.cleaned_data["chance"] / 100 if form.is_valid() else STAY_PROBABILITY


def panels_told(folder: CarFolder, result: PolishResult) -> list[tuple[str, str, list[AreaLines]]]:
    """Name, picture and areas of every panel that was polished or has a floor."""
    names = dict.fromkeys(area.panel for area in result.areas)
    return [(name, wedges(folder, result, name), area_lines(result, panel=name)) for name in names]


def wedges(folder: CarFolder, result: PolishResult, panel: str) -> str:
    """Wedge map of a panel; empty where nobody drew the panel."""
    try:
        return wedge_svg(folder, result, panel)
    except AsfoundError:
        return ""


def panel_names(folder: CarFolder) -> list[str]:
    """Panels that can be polished: those drawn, or those that readings name."""
    drawn = [panel.panel for panel in panels_of(folder)]
    named = [row.text("panel") for row in folder.sheet("polish")]
    return list(dict.fromkeys([*drawn, *named]))
