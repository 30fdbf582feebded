"""What comes off first, the way to a piece, and the order of rebuilding."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_GET

from asfound.craft.cautions import DEFER
from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.files import as_file
from asfound.dossier.figures.strip_order import strip_svg
from asfound.plan.strip import Way, rebuild_order, way_to
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip import StripQuestion, strip_question
from asfound.record.faults import InputFaultsError
from asfound.record.models import Car

TABLES = ("joints", "removals", "rebuild_links")


@login_required
@require_GET
def strip(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the order of stripping and rebuilding."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    context: dict[str, Any] = {"tables": TABLES, "joints_n": len(folder.sheet("joints"))}
    if context["joints_n"]:
        try:
            question = strip_question(folder)
        except InputFaultsError as error:
            context["faults"] = error.faults
        else:
            context |= _read(car, question, request.GET.get("to", ""))
    return show(request, "plan/strip.html", car=car, room="plan", **context)


@login_required
@require_GET
def picture(request: HttpRequest, slug: str) -> HttpResponse:
    """Graph of the joints as a picture with its own colours."""
    car = open_car_to_write(request, slug)
    try:
        question = strip_question(folder_of(car))
    except InputFaultsError as error:
        raise Http404(str(error)) from error
    svg = strip_svg(question, way=_way(question, request.GET.get("to", "")), theme="print")
    return as_file(svg.encode(), "image/svg+xml", f"{slug}-strip.svg")


def _way(question: StripQuestion, to: str) -> Way | None:
    return way_to(question.assembly, to, work_s=3.0) if to in question.assembly.named else None


def _read(car: Car, question: StripQuestion, to: str) -> dict[str, Any]:
    way = _way(question, to)

    def address(part: str) -> str:
        return f"{reverse('strip', args=(car.slug,))}?{urlencode({'to': part})}#graph"

    rebuild = rebuild_order(
        question.assembly, links=question.links, benches=question.benches, free_of=question.free_of
    )
    shown = way.first_off if way else question.assembly.sequence
    removals = [
        (question.removals[part], f"{question.assembly.named[part].risk:.2f}") for part in shown
    ]
    aim = question.removals[way.piece] if way else None
    told = [removal for removal, _ in removals] + ([aim] if aim else [])
    return {
        "way": way,
        "aim": aim,
        "risk": f"{way.risk:.2f}" if way else "",
        "removals": removals,
        "graph": strip_svg(question, way=way, address=address),
        "names": [(name, question.removals[name].name) for name in question.assembly.named],
        "back": [
            (name, question.removals[name].name if name in question.removals else name)
            for name in rebuild.sequence
        ],
        "benches": [
            (bench, [question.removals[part].name for part in parts])
            for bench, parts in rebuild.benches.items()
        ],
        "new": [r.name for r in question.removals.values() if r.single_use],
        "cautions": list(dict.fromkeys(c for removal in told for c in removal.cautions)),
        "defer": DEFER,
    }
