"""What comes off first, the way to a piece, and the order of rebuilding."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.craft.cautions import DEFER
from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.files import PICTURES, as_file
from asfound.desk.plan.strip_drawn import DRAWING, address_in, groups_drawn, whole_drawing
from asfound.desk.plan.strip_lines import StripLine, named_like, strip_lines
from asfound.dossier.figures.strip_picture import (
    NAMES_AT_ONCE,
    strip_picture_svg,
    strip_sheets,
    way_svgs,
)
from asfound.dossier.pictures import rails_as_pdf, svg_as
from asfound.plan.strip import Way, way_to
from asfound.record.convert.stored import folder_of
from asfound.record.convert.strip import StripQuestion, strip_read
from asfound.record.convert.strip_faults import ON_PAGES
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.models import Car
from asfound.record.results.rebuild import NEXT, bench_steps, car_steps, tied_when_going_on

WORK_S = 3.0
LINES_AT_ONCE = 25
"""A longer table or order is folded at first."""


@login_required
@require_GET
def strip(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the order of stripping and rebuilding."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    context: dict[str, Any] = {"joints_n": len(folder.sheet("joints"))}
    if context["joints_n"]:
        try:
            question, rings = strip_read(folder, rows=ON_PAGES)
        except InputFaultsError as error:
            context["faults"] = error.faults
        else:
            context |= _read(request, car, question) | _rings(question, rings)
    return show(request, "plan/strip.html", car=car, room="plan", **context)


@login_required
@require_GET
def picture(request: HttpRequest, slug: str, form: str) -> HttpResponse:
    """Graph of the joints as a picture with its own colours; as PDF, on sheets of paper."""
    car = open_car_to_write(request, slug)
    try:
        question, _ = strip_read(folder_of(car))
    except InputFaultsError as error:
        raise Http404(str(error)) from error
    to = request.GET.get("to", "")
    way = _way(question, to) if to in {*question.left, *question.off} else None
    if form == "pdf":
        sheets = rails_as_pdf(f"What comes off before what: {car}", *strip_sheets(question))
        return as_file(sheets, PICTURES[form], f"{slug}-strip.pdf")
    in_whole = request.GET.get("in") == DRAWING
    svg = strip_picture_svg(question, way=way, in_whole=in_whole)
    data = svg.encode() if form == "svg" else svg_as(svg, "png")
    return as_file(data, PICTURES[form], f"{slug}-strip.{form}")


def _way(question: StripQuestion, to: str) -> Way:
    return way_to(question.assembly, to, off=question.off, work_s=WORK_S)


def _read(request: HttpRequest, car: Car, question: StripQuestion) -> dict[str, Any]:
    asked = request.GET.get("to", "").strip()
    found = list(named_like(question, asked))
    names = [(part, question.removals[part].name) for part in question.assembly.named]
    context: dict[str, Any] = {"asked": asked, "names": names, "defer": DEFER}
    held = [part for part in found if part in question.stuck]
    if len(found) == 1 and not held and request.GET.get("in") == DRAWING:
        lines = _whole(request, car, question, context, way=_way(question, found[0]))
    elif len(found) == 1 and not held:
        lines = _to_one(car, question, found[0], context)
    else:
        context["like"] = [(part, question.removals[part].name) for part in found if not held]
        context["held"] = [question.removals[part].name for part in held]
        context["none_like"] = bool(asked) and not found
        lines = _whole(request, car, question, context)
    cautions = dict.fromkeys(c for line in lines for c in line.removal.cautions)
    return context | {"cautions": list(cautions), **_back(question)}


def _rings(question: StripQuestion, faults: Sequence[Fault]) -> dict[str, Any]:
    """Pieces that wait for each other, and those behind them."""
    stuck = [question.removals[part].name for part in question.stuck]
    rings = [
        {"rule": f.rule, "remedy": f.remedy, "part": f.value.partition(", ")[0]} for f in faults
    ]
    return {"rings": rings, "stuck": stuck}


def _to_one(
    car: Car, question: StripQuestion, part: str, context: dict[str, Any]
) -> list[StripLine]:
    """Fill in what the page of one piece tells; its lines, the piece last."""
    way = _way(question, part)
    lines = strip_lines(question, [*way.first_off, part])
    context |= {
        "way": way,
        "aim": lines[-1],
        "risk": f"{way.risk:.2f}",
        "gap": f"{way.risk - way.risk_least:.2f}",
        "lines": lines[:-1],
        "tied": tied_when_going_on(question, part),
    }
    context["graph"], context["rails"] = way_svgs(question, way, address=address_in(car.slug))
    return lines


def _whole(
    request: HttpRequest,
    car: Car,
    question: StripQuestion,
    context: dict[str, Any],
    *,
    way: Way | None = None,
) -> list[StripLine]:
    """Fill in what the page of the whole car tells; the lines of all pieces."""
    opened = request.GET.getlist("open")
    if way is not None:
        context["lit"] = {"way": way, "name": question.removals[way.piece].name}
        if not opened:
            opened = [question.groups[name] for name in (*way.first_off, way.piece)]
    context |= {
        "lines": strip_lines(question, [*_in_order(question, question.off), *question.left]),
        "graph": whole_drawing(question, slug=car.slug, opened=opened, way=way),
        "groups": groups_drawn(question, slug=car.slug, way=way),
        "forms": tuple(PICTURES),
        "is_large": len(question.assembly.pieces) > NAMES_AT_ONCE,
        "is_long": len(question.assembly.pieces) > LINES_AT_ONCE,
        "opened": opened,
    }
    lines: list[StripLine] = context["lines"]
    return lines


def _in_order(question: StripQuestion, several: Collection[str]) -> list[str]:
    return [name for name in question.assembly.named if name in several]


def _back(question: StripQuestion) -> dict[str, Any]:
    """How the car goes together again, and how far it is."""
    steps, removals = car_steps(question), question.removals.values()
    return {
        "back": steps,
        "nexts": [step for step in steps if step.state == NEXT],
        "came_off_n": sum(bool(removal.off_on) for removal in removals),
        "on_n": sum(bool(removal.off_on and removal.on_again) for removal in removals),
        "off_n": len(question.off),
        "benches": bench_steps(question),
        "new": [removal.name for removal in removals if removal.single_use],
    }
