"""Uploading a file of readings: seen, matched and checked before anything is written."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.core.files.uploadedfile import UploadedFile
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.survey import upload
from asfound.desk.survey.forms import FilmFileForm
from asfound.desk.survey.matching import MatchForm
from asfound.exchange.dialect import Written
from asfound.record.actions import import_film_rows
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car

FAULTS_SHOWN = 200
ROWS_SHOWN = 12
_SET_ASIDE_S = 3600


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A file between its upload and its confirmation."""

    file: str
    written: Written


@login_required
@require_http_methods(["GET", "POST"])
def load_film(request: HttpRequest, slug: str) -> HttpResponse:
    """Form that takes a file and sets it aside to be matched."""
    car = open_car_to_write(request, slug)
    form = FilmFileForm(request.POST or None, request.FILES or None)
    faults: list[Fault] = []
    if request.method == "POST" and form.is_valid():
        taken = _take(form.cleaned_data["file"])
        if isinstance(taken, SetAside):
            token = uuid.uuid4().hex
            cache.set(_name(request, car, token), taken, _SET_ASIDE_S)
            return redirect("match-film", slug, token)
        faults = [taken]
    return show(
        request,
        "survey/load.html",
        status=422 if faults or form.errors else 200,
        car=car,
        room="survey",
        form=form,
        faults=faults,
        faults_n=len(faults),
    )


def _take(file: UploadedFile[Any]) -> SetAside | Fault:
    name = file.name or "the file"
    written = upload.take_in(file.read(), file=name)
    return written if isinstance(written, Fault) else SetAside(file=name, written=written)


def _name(request: HttpRequest, car: Car, token: str) -> str:
    """Only who uploaded a file finds it again."""
    return f"film-upload:{request.user.pk}:{car.pk}:{token}"


@login_required
@require_http_methods(["GET", "POST"])
def match_film(request: HttpRequest, slug: str, token: str) -> HttpResponse:
    """Columns matched and rows checked; written whole when confirmed without a fault."""
    car = open_car_to_write(request, slug)
    aside = cache.get(_name(request, car, token))
    if aside is None:
        messages.warning(request, "The file was set aside for an hour only. Upload it again.")
        return redirect("load-film", slug)
    folder = folder_of(car)
    form = _match_form(request, aside, folder)
    checked = _checked(form, aside, folder)
    if checked.sheet is not None and request.POST.get("step") == "write":
        import_film_rows(car=car, rows=_rows(checked.sheet), by=request.user)
        cache.delete(_name(request, car, token))
        messages.success(request, f"{len(checked.sheet)} readings of {aside.file} are written.")
        return redirect("survey", slug)
    context = _preview(checked, aside, form, folder)
    return show(request, "survey/match.html", car=car, room="survey", form=form, **context)


def _match_form(request: HttpRequest, aside: SetAside, folder: CarFolder) -> MatchForm:
    panels = [row.text("panel") for row in folder.sheet("panels")]
    return MatchForm(request.POST or None, head=aside.written.head, panels=panels)


def _checked(form: MatchForm, aside: SetAside, folder: CarFolder) -> upload.Checked:
    matching, one_panel = form.matching()
    return upload.check(aside.written, matching, one_panel=one_panel, car=folder, file=aside.file)


def _rows(sheet: Sheet) -> list[dict[str, str]]:
    return [dict(row.cells) for row in sheet]


def _preview(
    checked: upload.Checked, aside: SetAside, form: MatchForm, folder: CarFolder
) -> dict[str, Any]:
    matching, _ = form.matching()
    sheet = checked.sheet
    context: dict[str, Any] = {
        "file": aside.file,
        "rows_n": len(aside.written.rows),
        "dialect": upload.dialect_words(aside.written),
        "left_out": [h for i, h in enumerate(aside.written.head) if i not in matching.values()],
        "faults": checked.faults[:FAULTS_SHOWN],
        "faults_n": len(checked.faults),
        "head": aside.written.head,
        "raw": [cells for _, cells in aside.written.rows[:ROWS_SHOWN]],
        "sheet": sheet,
    }
    if sheet is not None:
        context |= {
            "preview": sheet.rows[:ROWS_SHOWN],
            "spots_n": len({(row.text("panel"), row.text("spot")) for row in sheet}),
            "on_panels_n": len({row.text("panel") for row in sheet}),
            "twins_n": upload.twins(sheet, folder),
        }
    return context
