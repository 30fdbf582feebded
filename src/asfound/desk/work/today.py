"""Today's cards of a person over all cars."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from asfound.desk.access import refuse_readers, show
from asfound.desk.work.lines import TODAY, CardLine, grouped, lines_of
from asfound.desk.work.who import choose, chosen, known_in, people_of, worker_in
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.reads import cars_for
from asfound.record.reads.shop_plan import adopted_shop
from asfound.record.reads.workshop import planning_folder, workshop_sheets

LATER_SHOWN = 12


@login_required
@require_GET
def cards(request: HttpRequest) -> HttpResponse:
    """Page of the cards: what goes on and what can be begun first."""
    refuse_readers(request)
    folders = _with_tasks(request)
    lines = _lines(request, folders)
    now = [line for line in lines if line.group in TODAY]
    later = [line for line in lines if line.group not in TODAY]
    people = people_of(folder for _, folder in folders)
    names = [worker_in(request, folder) for _, folder in folders]
    name = chosen(request) or next(iter(names), request.user.get_username())
    return show(
        request,
        "work/today.html",
        groups=grouped(now),
        later=grouped(later[:LATER_SHOWN]),
        later_n=len(later),
        name=name,
        is_known=bool(chosen(request)) or any(known_in(request, one) for _, one in folders),
        people=people,
        day=timezone.localdate(),
    )


@login_required
@require_POST
def work_as(request: HttpRequest) -> HttpResponse:
    """Say which of the plan's people one is, or look at somebody else's cards."""
    refuse_readers(request)
    name = request.POST.get("name", "").strip()
    if name in people_of(folder for _, folder in _with_tasks(request)):
        choose(request, name)
    return redirect("todays-cards")


def _with_tasks(request: HttpRequest) -> list[tuple[Car, CarFolder]]:
    cars = [car for car in cars_for(request.user) if car.heads.get("tasks")]
    shared = workshop_sheets()
    return [(car, planning_folder(car, shared)) for car in cars]


def _lines(request: HttpRequest, folders: list[tuple[Car, CarFolder]]) -> list[CardLine]:
    now, shop = timezone.localtime(), adopted_shop()
    return [
        line
        for car, folder in folders
        for line in lines_of(car, folder, worker_in(request, folder), now, shop=shop)
    ]
