"""The finish, choice, original fabric and papers at a glance, which the car's sheet fills in."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show
from asfound.desk.decisions.choosing import waiting_for_choice
from asfound.desk.decisions.tallies import tallies
from asfound.desk.decisions.ways import ways_of
from asfound.desk.history.lines import clash_lines, statements
from asfound.desk.survey.drawn import drawn_sheet
from asfound.desk.survey.finish import read_finish
from asfound.desk.survey.lines import level_u95_um, panel_lines
from asfound.dossier.figures.layout import unfold
from asfound.dossier.figures.miniature import miniature_svg
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_result, history_reading
from asfound.record.results.film import TWO_SIDED

CLASHES_SHOWN = 3


@login_required
@require_GET
def finish(request: HttpRequest, slug: str) -> HttpResponse:
    """What the film tells, in a small sheet and in words."""
    car = open_car(request, slug)
    folder = folder_of(car)
    try:
        reading = read_finish(folder)
        sheet = drawn_sheet(car, folder, reading, numbered=False)
    except AsfoundError as error:
        return show(request, "parts/refusal.html", heading="The finish", refusal=error)
    lines = panel_lines(reading)
    told = [line for line in lines if line.speaks_for_later_work]
    return show(
        request,
        "cars/_finish.html",
        car=car,
        reading=reading,
        level_u95=level_u95_um(reading),
        sheet=sheet,
        told=told,
        quiet_n=len(lines) - len(told),
        unknown_n=sum(not line.is_known for line in lines),
        two_sided=TWO_SIDED,
    )


@login_required
@require_GET
def miniature(request: HttpRequest, slug: str) -> HttpResponse:
    """Outlines of the car unfolded, for its card in the list."""
    return HttpResponse(miniature_svg(unfold(folder_of(open_car(request, slug)))))


@login_required
@require_http_methods(["GET", "POST"])
def choice(request: HttpRequest, slug: str) -> HttpResponse:
    """What is chosen against the brief's limits."""
    car = open_car(request, slug)
    folder = folder_of(car)
    waiting = waiting_for_choice(request, car, folder)
    if waiting is not None:
        return waiting
    try:
        problem = choice_problem(folder)
        result = choice_result(folder)
    except AsfoundError as error:
        return show(request, "parts/refusal.html", heading="The choice", refusal=error)
    if result.choice is None:
        return show(request, "cars/_choice.html", car=car, clash=result.clash)
    totals = tallies(result.choice, problem.brief, currency=car.currency)
    return show(request, "cars/_choice.html", car=car, tallies=totals)


@login_required
@require_GET
def fabric(request: HttpRequest, slug: str) -> HttpResponse:
    """How much is original as found, as decided and as left, by each way to count."""
    car = open_car(request, slug)
    try:
        ways, is_decided = ways_of(folder_of(car))
    except AsfoundError as error:
        return show(request, "parts/refusal.html", heading="Original fabric", refusal=error)
    steps = [
        (row[0][0], [stage for _, stage in row])
        for row in zip(*(way.steps for way in ways), strict=True)
    ]
    return show(
        request, "cars/_fabric.html", car=car, ways=ways, steps=steps, is_decided=is_decided
    )


@login_required
@require_GET
def papers(request: HttpRequest, slug: str) -> HttpResponse:
    """Whether what is said of the car's past can hold together."""
    car = open_car(request, slug)
    folder = folder_of(car)
    try:
        reading = history_reading(folder)
    except AsfoundError as error:
        return show(request, "parts/refusal.html", heading="The papers", refusal=error)
    lines = statements(folder)
    return show(
        request,
        "cars/_papers.html",
        car=car,
        events_n=len(reading.events),
        clashes=[clash_lines(clash, lines) for clash in reading.clashes[:CLASHES_SHOWN]],
        more_n=max(len(reading.clashes) - CLASHES_SHOWN, 0),
    )
