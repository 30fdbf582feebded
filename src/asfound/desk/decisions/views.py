"""The decisions over a car: the brief, the front, the totals and the pieces."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import AsfoundError
from asfound.choose import Problem, find_clash, lettings, notices, relaxations
from asfound.desk.access import open_car, show, wants_whole
from asfound.desk.decisions.choosing import waiting_for_choice
from asfound.desk.decisions.front_walk import walk
from asfound.desk.decisions.holding import state_of
from asfound.desk.decisions.moved import contested_n, moved
from asfound.desk.decisions.pieces import OPEN_PIECES, fold, piece_lines
from asfound.desk.decisions.reasons import reasons_state
from asfound.desk.decisions.remembered import last_choice, last_totals, remember_choice
from asfound.desk.decisions.small_sheet import panels_of_pieces, sheet_of_rows
from asfound.desk.decisions.tallies import as_shown, tallies
from asfound.dossier.figures import front_svg
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.stored import folder_of
from asfound.record.derived import choice_key, choice_result, chosen_now, has_choice_result
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.reads import brief_of

PIECES_A_PAGE = 300
LARGE = 150
"""Pieces from which the totals are shown before the front and the reasons are worked out."""


@login_required
@require_GET
def decisions(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the decisions; the choice fills itself in."""
    car = open_car(request, slug)
    context: dict[str, Any] = {"brief": brief_of(car), "options_n": car.options.count()}
    if wants_whole(request) and context["options_n"]:
        context |= _choice(request, car)
    return show(request, "decisions/page.html", car=car, room="decisions", **context)


@login_required
@require_http_methods(["GET", "POST"])
def choice(request: HttpRequest, slug: str) -> HttpResponse:
    """The choice over the whole car, as a fragment of the page."""
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('decisions', args=(slug,))}?whole=1")
    car = open_car(request, slug)
    folder = folder_of(car)
    if "rest" not in request.GET and _is_large(car) and not has_choice_result(folder):
        first = _first(car, folder)
        if first:
            return show(request, "decisions/_choice_first.html", car=car, **first)
    waiting = waiting_for_choice(request, car, folder)
    if waiting is not None:
        return waiting
    return show(request, "decisions/_choice.html", car=car, **_choice(request, car))


def _is_large(car: Car) -> bool:
    return car.options.values("subject").distinct().count() > LARGE


def _first(car: Car, folder: CarFolder) -> dict[str, Any]:
    """The totals of the choice, which are there long before its front and its reasons."""
    try:
        problem, chosen = choice_problem(folder), chosen_now(folder)
    except AsfoundError:
        return {}
    return {"tallies": tallies(chosen, problem.brief, currency=car.currency)}


def _choice(request: HttpRequest, car: Car) -> dict[str, Any]:
    folder = folder_of(car)
    try:
        problem = choice_problem(folder)
        result = choice_result(folder)
    except AsfoundError as error:
        return {"shown": True, "refusal": str(error)}
    if result.choice is None or result.front is None:
        return {"shown": True, "clash": result.clash, **_ways_out(problem)}
    totals = tallies(
        result.choice, problem.brief, currency=car.currency, before=last_totals(request, car)
    )
    lines = piece_lines(problem, result, folder)
    remember_choice(request, car, totals=as_shown(totals), key=choice_key(folder))
    page = Paginator(lines, PIECES_A_PAGE).get_page(request.GET.get("page"))
    open_lines, folded = fold(list(page.object_list), open_n=OPEN_PIECES)
    return {
        "shown": True,
        "open_lines": open_lines,
        "folded": folded,
        "choice": result.choice,
        "tallies": totals,
        "moved": moved(last_choice(request, car), result),
        "contested_n": contested_n(result),
        "page": page,
        "small_sheet": sheet_of_rows(folder, [line.subject for line in page]),
        "panels": panels_of_pieces(folder),
        "points": result.front.points,
        "disputed": [line for line in lines if line.dissents],
        "walk": walk(result.front, result.choice, slug=car.slug, currency=car.currency),
        "notices": notices(problem),
        **state_of(folder),
        **reasons_state(folder),
        "front": front_svg(
            result.front.points,
            result.choice,
            cost_max=problem.brief.cost_max,
            currency=car.currency,
            theme="page",
        ),
    }


def _ways_out(problem: Problem) -> dict[str, Any]:
    """What would each alone make the brief possible: numbers that move, and what is let go."""
    clash = find_clash(problem)
    if clash is None:
        return {}
    return {"relaxed": relaxations(problem, clash), "lets": lettings(problem, clash)}
