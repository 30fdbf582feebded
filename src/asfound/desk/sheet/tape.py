"""A new car by tape, or the sheet of a car drawn anew."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import open_car_to_write, refuse_readers, show
from asfound.desk.sheet.areas import areas
from asfound.desk.sheet.diagram import diagram_svg
from asfound.desk.sheet.drawing import drawing_svg
from asfound.desk.sheet.forms import IdentityForm, TapeForm
from asfound.desk.sheet.lengths import LABELS, label_on
from asfound.record.actions import check_can_redraw, redraw_sheet, start_car
from asfound.record.convert.sheet import panels_sheet
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.models import Car


@login_required
@require_http_methods(["GET", "POST"])
def new_car(request: HttpRequest) -> HttpResponse:
    """Page that draws a car from a tape and begins its record."""
    refuse_readers(request)
    tape = TapeForm(request.POST or None)
    if getattr(request, "htmx", False):
        return show(request, "sheet/_preview.html", swapped=True, **_drawn(tape))
    wanted = request.POST.get("step") == "create"
    identity = IdentityForm(request.POST if wanted else None, initial=request.POST.dict())
    if wanted and tape.is_valid() and identity.is_valid():
        try:
            car = _begin(request, tape, identity)
        except InputFaultsError as error:
            for fault in error.faults:
                identity.add_error(None, f"{fault.rule}. {fault.remedy}")
        else:
            messages.success(request, f"{car} is begun: {car.panels.count()} panels are drawn.")
            return redirect("survey", car.slug)
    return show(
        request,
        "sheet/new_car.html",
        status=422 if wanted else 200,
        tape=tape,
        identity=identity,
        **_drawn(tape),
    )


@login_required
@require_http_methods(["GET", "POST"])
def draw_again(request: HttpRequest, slug: str) -> HttpResponse:
    """Page that draws the sheet of a car anew, as long as nothing was read on it."""
    car = open_car_to_write(request, slug)
    tape = TapeForm(request.POST or None, initial={"form": car.body_style})
    if getattr(request, "htmx", False):
        return show(request, "sheet/_preview.html", swapped=True, **_drawn(tape))
    wanted = request.POST.get("step") == "create"
    refusal = _refusal(car)
    if wanted and tape.is_valid() and not refusal:
        redraw_sheet(car=car, panels=tape.cleaned_data["panels"], tape=tape.told(), by=request.user)
        messages.success(request, "The sheet is drawn anew; the old one is kept in the log.")
        return redirect("survey", slug)
    return show(
        request,
        "sheet/draw_again.html",
        status=422 if wanted else 200,
        car=car,
        room="survey",
        refusal=refusal,
        tape=tape,
        **_drawn(tape),
    )


def _begin(request: HttpRequest, tape: TapeForm, identity: IdentityForm) -> Car:
    told = dict(identity.cleaned_data)
    told["body_style"] = told["body_style"] or tape.cleaned_data["form"]
    columns = ("marque", "model", "body_style", "built", "registration", "currency")
    return start_car(
        identity={column: told[column] for column in columns},
        panels=tape.cleaned_data["panels"],
        tape=tape.told(),
        by=request.user,
    )


def _refusal(car: Car) -> str:
    try:
        check_can_redraw(car)
    except InputError as error:
        return f"The panels are {error.got}; they must be {error.allowed}. {error.remedy}"
    return ""


def _drawn(tape: TapeForm) -> dict[str, Any]:
    """The sheet as it would be, what is assumed, what is wrong or still missing."""
    valid = tape.is_valid()
    taken = tape.taken() if tape.is_bound else {}
    context: dict[str, Any] = {
        "diagram": diagram_svg(tape.body, taken, separate_wings=tape.has_separate_wings),
        "further_open": any(tape.data.get(f.name) for f in tape.further),
        "to_measure": [LABELS[f.name] for f in tape.needed if f.name not in taken],
        "wrong": [e for f, es in tape.errors.items() for e in es if not _is_empty(tape, f)],
    }
    if not valid:
        return context
    panels = tape.cleaned_data["panels"]
    folder = CarFolder(sheets={"panels": panels_sheet(panels)})
    return {
        **context,
        "sheet": drawing_svg(folder),
        "assumed": [label_on(tape.body, name) for name in tape.cleaned_data["assumed"]],
        "areas": areas((p.panel, p.view, p.area_m2) for p in panels),
    }


def _is_empty(tape: TapeForm, name: str) -> bool:
    return name in tape.fields and not tape.data.get(name, "").strip()
