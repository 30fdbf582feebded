"""The plan of a car: bars, tasks, and the promise as a curve."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, get_args

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from asfound.desk.access import open_car_to_write, show, wants_whole
from asfound.desk.beside import waiting_for
from asfound.desk.observed.files import PICTURES
from asfound.desk.plan.asked import Asked, asked_of, past_asked
from asfound.desk.plan.lines import finishes_of, task_lines, task_names
from asfound.desk.shop.window import ways_from
from asfound.dossier.figures.plan_bars import By, plan_span, plan_svg
from asfound.dossier.figures.promise_curve import promise_svg
from asfound.plan import Past
from asfound.record.background.works import make_plan
from asfound.record.convert.past import past_words, shared_words, spread_words
from asfound.record.convert.plan import default_first_day
from asfound.record.convert.workshop import lent_to
from asfound.record.derived import PlanResult, plan_key, plan_result, search_on
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.reads.workshop import planning_folder
from asfound.record.results.plan import CHANCES, goes_on, promised


@login_required
@require_GET
def plan(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the plan; the plan itself follows when it is made."""
    car = open_car_to_write(request, slug)
    folder, asked = planning_folder(car), asked_of(request.GET)
    context: dict[str, Any] = {
        "asked": asked,
        "query": asked.query(),
        "tasks_n": len(folder.sheet("tasks")),
        "joints_n": len(folder.sheet("joints")),
        "lent": lent_to(folder),
    }
    if wants_whole(request):
        context |= _made(car, folder, asked, past_asked(asked))
    return show(request, "plan/page.html", car=car, room="plan", **context)


@login_required
@require_http_methods(["GET", "POST"])
def made(request: HttpRequest, slug: str) -> HttpResponse:
    """The plan alone, as a fragment of its page; a POST stops it or searches on."""
    car = open_car_to_write(request, slug)
    folder, asked = planning_folder(car), asked_of(request.GET)
    past = past_asked(asked)
    key = plan_key(folder, start=asked.start, past=past)
    if request.POST.get("step") == "on":
        search_on(key)
    if request.method == "POST" and not getattr(request, "htmx", False):
        return redirect(reverse("plan", args=(slug,)) + asked.query())
    waiting = waiting_for(
        request,
        make_plan,
        car,
        key=key,
        what="Looking for the shortest plan",
        car=slug,
        start=asked.start.isoformat() if asked.start else "",
        past=asked.with_past,
    )
    if waiting is not None:
        return waiting
    context = _made(car, folder, asked, past)
    return show(request, "plan/_made.html", car=car, **context)


def _made(car: Car, folder: CarFolder, asked: Asked, past: Past) -> dict[str, Any]:
    try:
        result = plan_result(folder, start=asked.start, past=past)
    except InputFaultsError as error:
        return {"made": True, "faults": error.faults}
    told = {"made": True, "asked": asked, "result": result, "clash": result.clash}
    told |= {"past": past_words(past), "shared": shared_words(past)}
    told["spread"] = spread_words(past)
    told["first_day"] = result.question.first_day
    told["assumed_day"] = asked.start is None and not default_first_day(folder).year > 2001
    if result.plan is None or result.promise is None:
        return told
    return told | _figures(car, folder, result, asked) | _lines(folder, result)


def _lines(folder: CarFolder, result: PlanResult) -> dict[str, Any]:
    lines = task_lines(folder, result)
    held = [(one.task, one.name, words) for one in lines for words in one.waits]
    return {"lines": lines, "held": held, "names": task_names(folder)}


def _figures(car: Car, folder: CarFolder, result: PlanResult, asked: Asked) -> dict[str, Any]:
    assert result.plan is not None
    assert result.promise is not None
    finishes = finishes_of(result)
    assert finishes is not None
    names = {placed.task for placed in result.plan.placed}
    of = asked.of if asked.of in names else ""

    def page(changes: Mapping[str, str]) -> str:
        return reverse("plan", args=(car.slug,)) + asked.query(changes) + "#bars"

    def address(task: str) -> str:
        return page({"of": task})

    begins, ends = plan_span(result.question, result.plan)
    window = asked.days.window(begins=begins, ends=ends, tasks_n=len(names))

    days = [
        (f"{chance:.0%}", promised(result.question, result.promise, chance))
        for chance in CHANCES.values()
    ]
    return {
        "of": of,
        "bars": plan_svg(
            result.question,
            result.plan,
            by=asked.by,
            critical=result.critical,
            names=task_names(folder),
            of=of,
            window=window,
            now=timezone.localtime().replace(tzinfo=None),
            address=address,
        ),
        "forms": tuple(PICTURES),
        "ways": [(by, page({"by": by})) for by in get_args(By)],
        **ways_from(window, page, begins=begins, ends=ends),
        "curve": promise_svg(finishes),
        "draws": f"{result.promise.draws:,}",
        "goes_on": goes_on(result.promise),
        "finish_kept": result.promise.chance_by(result.plan.finish_min),
        "days": days,
        "finish": result.question.at(result.plan.finish_min),
    }
