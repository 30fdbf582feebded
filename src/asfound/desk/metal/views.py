"""The sheet metal of a car: what is left of all of it, and one panel or part."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import AsfoundError
from asfound.craft.cautions import DEFER, Caution, cautions_for
from asfound.desk.access import open_car, refuse_readers, show
from asfound.desk.metal.entering import enter_place
from asfound.desk.metal.forms import PlaceForm
from asfound.desk.metal.lines import (
    OFFERED,
    line_of,
    named,
    observed_lines,
    subject_line,
    subjects_of,
)
from asfound.desk.observed.answering import is_for_script, kept_answer, pressed_at, refused_answer
from asfound.desk.tables.fault_words import in_words
from asfound.dossier.figures import metal_svg
from asfound.measure.metal import CarMetal
from asfound.record.convert.metal import assumed_for
from asfound.record.convert.stored import folder_of
from asfound.record.convert.worked import written
from asfound.record.derived import metal_reading
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.results.metal import BARE_STEEL, LEAST_CAUTION, LOSS_SAYS

PICTURES_SHOWN = 12
"""Those with most loss first; every panel has its picture on its own page."""
JUST_READ = timedelta(minutes=10)
"""As long as a place that was read is offered to a finding."""
BARING = "stripping and sanding old finish, solder and primer to bare metal"


@login_required
@require_GET
def overview(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of all that was read, worst first, with pictures and what it rests on."""
    car = open_car(request, slug)
    folder = folder_of(car)
    subjects, typed = subjects_of(folder), request.GET.get("on", "")
    wanted = named(subjects, typed)
    if wanted is not None:
        return redirect("metal-subject", slug, *wanted)
    return show(
        request,
        "metal/overview.html",
        car=car,
        room="survey",
        subjects=[name for _, name in subjects][:OFFERED],
        not_found=typed,
        caution=LEAST_CAUTION,
        loss_says=LOSS_SAYS,
        **_told(folder),
    )


def _told(folder: CarFolder) -> dict[str, Any]:
    """What was read, or why nothing can be said."""
    if not len(folder.sheet("metal")):
        return {}
    try:
        metal = metal_reading(folder)
    except AsfoundError as error:
        return {"refusal": str(error)}
    lines = sorted((subject_line(found) for found in metal.subjects), key=_share_left)
    return {
        "lines": lines,
        "pictures": list(
            _pictures(folder, metal, [ln.subject for ln in lines if ln.kind == "panel"])
        ),
        "bare": metal.bare,
        "bare_words": BARE_STEEL,
        "assumed": assumed_for(folder),
    }


def _share_left(line: Any) -> float:
    """What is left at the thinnest place as a share of the nominal; unknown ones last."""
    nominal = line.found.about.nominal
    return 2.0 if nominal is None else line.found.thinnest_mm.value / nominal.thickness_mm


def _pictures(folder: CarFolder, metal: CarMetal, panels: list[str]) -> Iterator[tuple[str, str]]:
    drawn = {row.text("panel") for row in folder.sheet("panels")}
    for panel in [panel for panel in panels if panel in drawn][:PICTURES_SHOWN]:
        yield panel, metal_svg(folder, metal, panel)


@login_required
@require_http_methods(["GET", "POST"])
def subject(request: HttpRequest, slug: str, kind: str, subject: str) -> HttpResponse:
    """Page of one panel or part: its picture, its readings, and entering more of them."""
    car = open_car(request, slug)
    folder = folder_of(car)
    if (kind, subject) not in subjects_of(folder):
        raise Http404(subject)
    if request.method == "POST":
        refuse_readers(request)
        return _take(request, car, folder, kind, subject)
    place = {f"{axis}_mm": request.GET.get(axis, "")[:20] for axis in "xy"}
    form = PlaceForm(initial={**place, "gauge": (_gauges(folder) or [""])[-1]})
    return _page(request, car, folder, kind, subject, form)


def _take(
    request: HttpRequest, car: Car, folder: CarFolder, kind: str, subject: str
) -> HttpResponse:
    form = PlaceForm(request.POST)
    if form.is_valid():
        try:
            said = enter_place(
                car=car,
                kind=kind,
                subject=subject,
                by=request.user,
                taken_at=written(pressed_at(request)),
                **form.cleaned_data,
            )
        except InputFaultsError as error:
            for fault in error.faults:
                told = in_words(fault, table="metal")
                form.add_error(None, f"{told.rule}. {told.remedy}")
        else:
            messages.success(request, said)
            page = reverse("metal-subject", args=(car.slug, kind, subject))
            kept = urlencode({"kept": form.cleaned_data["key"]})
            return kept_answer(request, f"{page}?{kept}#place")
    if is_for_script(request):
        return refused_answer(form)
    return _page(request, car, folder, kind, subject, form, status=422)


def _gauges(folder: CarFolder) -> list[str]:
    named = [
        row.text("instrument")
        for row in folder.sheet("instruments")
        if row.text("kind") == "sheet thickness"
    ]
    return [name for name in [*named, *(r.text("gauge") for r in folder.sheet("metal"))] if name]


def _page(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    kind: str,
    subject: str,
    form: PlaceForm,
    *,
    status: int = 200,
) -> HttpResponse:
    try:
        metal, refusal = metal_reading(folder) if len(folder.sheet("metal")) else None, ""
    except AsfoundError as error:
        metal, refusal = None, str(error)
    return show(
        request,
        "metal/subject.html",
        status=status,
        car=car,
        room="survey",
        kind=kind,
        subject=subject,
        form=form,
        thickness=form.thickness_as_typed(),
        gauges=list(dict.fromkeys(_gauges(folder))),
        figure=_figure(folder, metal, kind, subject),
        line=line_of(metal, kind, subject),
        finding=_finding_here(request, car, kind, subject),
        refusal=refusal,
        observed=observed_lines(car, kind, subject),
        cautions=_cautions(),
        defer=DEFER,
        least_caution=LEAST_CAUTION,
    )


def _finding_here(request: HttpRequest, car: Car, kind: str, subject: str) -> str:
    """Query of the form of a finding: on the same thing, at the place that one has just read."""
    rows = car.observations.current().filter(table="metal", entered_by_id=request.user.pk)
    last = rows.filter(entered_at__gte=timezone.now() - JUST_READ).order_by("-pk").first()
    if last is None or last.cells.get(kind) != subject:
        return urlencode({"subject": subject})
    place = {axis: last.cells[f"{axis}_mm"] for axis in "xy"}
    return urlencode({"subject": subject, **place})


def _figure(folder: CarFolder, metal: CarMetal | None, kind: str, subject: str) -> str:
    drawn = {row.text("panel") for row in folder.sheet("panels")}
    return metal_svg(folder, metal, subject) if kind == "panel" and subject in drawn else ""


def _cautions() -> list[Caution]:
    """Cautions of baring the metal for a reading; those that always stand are not repeated."""
    return [caution for caution in cautions_for([BARING]) if caution.called_by]
