"""The holds of a car: for the workshop all, for the owner those that ask for their eyes."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.base import InputError
from asfound.desk.access import may_write, open_car, open_car_to_write, show
from asfound.desk.holds.forms import CorrectHoldForm, HoldForm
from asfound.desk.observed.correcting import correct_row
from asfound.desk.observed.lines import observed_line
from asfound.desk.work.lines import card_address
from asfound.record.actions.hold import (
    can_change,
    can_release,
    check_can_change,
    release_hold,
    set_hold,
)
from asfound.record.convert.holds import HOLDS, OWNER, Hold, hold_of, hold_words
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Observation

SHOWN = 200


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldLine:
    """One hold as its page lists it."""

    pk: int
    hold: Hold
    name: str
    address: str
    can_release: bool
    can_change: bool
    is_late: bool


@login_required
@require_GET
def holds(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the holds."""
    car = open_car(request, slug)
    lines = _lines(request, car)
    return show(
        request,
        "holds/list.html",
        car=car,
        room="work",
        held=[line for line in lines if line.hold.is_open],
        ended=[line for line in lines if not line.hold.is_open],
        moved=_moved(request, car),
    )


def _moved(request: HttpRequest, car: Car) -> Observation | None:
    """Hold that was changed just now, as the address tells; it may be withdrawn."""
    pk = request.GET.get("moved", "")
    rows = car.observations.filter(table=HOLDS)
    return rows.filter(pk=pk).first() if pk.isdecimal() and may_write(request) else None


def _lines(request: HttpRequest, car: Car) -> list[HoldLine]:
    rows = car.observations.current().filter(table=HOLDS)
    if not may_write(request):
        rows = rows.filter(cells__kind=OWNER)
    names = {row.text("task"): row.text("name") for row in folder_of(car).sheet("tasks")}
    return [_line(request, car, row, names) for row in rows.order_by("-pk")[:SHOWN]]


def _line(request: HttpRequest, car: Car, row: Observation, names: dict[str, str]) -> HoldLine:
    hold = hold_of(row.cells)
    is_late = hold.expected is not None and hold.expected < timezone.localdate()
    return HoldLine(
        pk=row.pk,
        hold=hold,
        name=names.get(hold.task, hold.task),
        address=card_address(car.slug, hold.task) if hold.task and may_write(request) else "",
        can_release=can_release(hold=row, by=request.user),
        can_change=can_change(hold=row, by=request.user),
        is_late=hold.is_open and is_late,
    )


@login_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, slug: str) -> HttpResponse:
    """Form that holds a task."""
    car = open_car_to_write(request, slug)
    folder, task = folder_of(car), request.GET.get("task", "")
    row = next((row for row in folder.sheet("tasks") if row.text("task") == task), None)
    if row is None:
        return redirect("holds", slug)
    fixed = {"task": task, "subject": row.text("subject") or "car"}
    form = HoldForm(request.POST or None, folder=folder, fixed=fixed)
    if request.method == "POST" and form.is_valid():
        key = form.cleaned_data["key"]
        set_hold(car=car, cells=form.cleaned_data["cells"], by=request.user, key=key)
        messages.success(request, f"{row.text('name') or task} is held.")
        return redirect(card_address(slug, task))
    return show(
        request,
        "holds/add.html",
        status=422 if form.errors else 200,
        car=car,
        room="work",
        form=form,
        name=row.text("name") or task,
        back=card_address(slug, task),
    )


@login_required
@require_POST
def release(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Let the work go on, by whom the hold names."""
    car = open_car(request, slug)
    hold = get_object_or_404(Observation, car=car, table=HOLDS, pk=pk)
    try:
        ended = release_hold(hold=hold, note=request.POST.get("note", "")[:400], by=request.user)
    except InputError as error:
        messages.warning(request, f"{error.got}; must be {error.allowed}. {error.remedy}")
        return redirect("holds", slug)
    messages.success(request, "Released; who did it and when is kept.")
    return redirect(_with_promise(ended))


def _with_promise(row: Observation) -> str:
    """Address of the holds that tells what a change of one does to the promise."""
    return f"{reverse('holds', args=(row.car.slug,))}?moved={row.pk}"


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page that puts a hold right, or withdraws it with the reason."""
    car = open_car_to_write(request, slug)
    hold = get_object_or_404(Observation, car=car, pk=pk, table=HOLDS)
    check_can_change(hold=hold, by=request.user)
    return correct_row(
        request,
        slug,
        pk,
        form_of=CorrectHoldForm,
        line_of=partial(observed_line, told=hold_words),
        page="holds-of",
        for_example="it was set on the wrong task.",
        room="work",
        thing="hold",
        then=_with_promise,
    )


@login_required
@require_GET
def holds_of(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Lead back to the holds of the car."""
    return redirect("holds", slug)
