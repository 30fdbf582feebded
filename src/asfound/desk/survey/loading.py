"""Uploading a file of readings: seen, matched and checked before anything is written."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.core.files.uploadedfile import UploadedFile
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.survey import upload
from asfound.desk.survey.forms import ReadingsFileForm
from asfound.desk.survey.matching import MatchForm
from asfound.desk.survey.remembering import as_before, remember, unnamed
from asfound.desk.survey.taking_in import dialect_words, take_in
from asfound.desk.survey.told_tables import LOADED, ToldTable, label_of
from asfound.exchange.dialect import Written
from asfound.record.actions import (
    add_observations,
    add_parts,
    forget_file_match,
    import_film_rows,
)
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car, FileMatch
from asfound.record.reads.file_matches import file_matches_of

FAULTS_SHOWN = 200
ROWS_SHOWN = 12
_SET_ASIDE_S = 3600


@dataclass(frozen=True, slots=True, kw_only=True)
class SetAside:
    """A file between its upload and its confirmation."""

    file: str
    sheets: tuple[Written, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Desk:
    """What lies on the desk while a file is matched."""

    car: Car
    folder: CarFolder
    told: ToldTable
    file: str
    written: Written
    known: list[FileMatch]
    form: MatchForm


@login_required
@require_http_methods(["GET", "POST"])
def load_table(request: HttpRequest, slug: str, table: str) -> HttpResponse:
    """Form that takes a file and sets it aside to be matched."""
    car = open_car_to_write(request, slug)
    told = _told(table)
    form = ReadingsFileForm(request.POST or None, request.FILES or None)
    faults: list[Fault] = []
    if request.method == "POST" and form.is_valid():
        taken = _take(form.cleaned_data["file"])
        if isinstance(taken, SetAside):
            token = uuid.uuid4().hex
            cache.set(_name(request, car, token), taken, _SET_ASIDE_S)
            return redirect("match-table", slug, table, token)
        faults = [taken]
    return show(
        request,
        "survey/load.html",
        status=422 if faults or form.errors else 200,
        car=car,
        room=told.page,
        told=told,
        others=[other for other in LOADED.values() if other is not told],
        form=form,
        faults=faults,
        faults_n=len(faults),
    )


def _told(table: str) -> ToldTable:
    if table not in LOADED:
        raise Http404(table)
    return LOADED[table]


def _take(file: UploadedFile[Any]) -> SetAside | Fault:
    name = file.name or "the file"
    sheets = take_in(file.read(), file=name)
    return sheets if isinstance(sheets, Fault) else SetAside(file=name, sheets=sheets)


def _name(request: HttpRequest, car: Car, token: str) -> str:
    """Only who uploaded a file finds it again."""
    return f"readings-upload:{request.user.pk}:{car.pk}:{token}"


@login_required
@require_http_methods(["GET", "POST"])
def match_table(request: HttpRequest, slug: str, table: str, token: str) -> HttpResponse:
    """Columns matched and rows checked; written whole when confirmed without a fault."""
    car = open_car_to_write(request, slug)
    told = _told(table)
    aside = cache.get(_name(request, car, token))
    if aside is None:
        messages.warning(request, "The file was set aside for an hour only. Upload it again.")
        return redirect("load-table", slug, table)
    desk = _desk(request, car, told, aside)
    if request.POST.get("step") == "forget":
        return _forget(request, desk)
    checked = upload.check(
        desk.written, desk.form.match(), car=desk.folder, file=aside.file, told=told
    )
    if checked.sheet is not None and request.POST.get("step") == "write":
        _write(request, desk, checked.sheet)
        cache.delete(_name(request, car, token))
        return redirect(told.page, slug)
    context = _preview(checked, desk, aside.sheets)
    return show(request, "survey/match.html", car=car, room=told.page, **context)


def _desk(request: HttpRequest, car: Car, told: ToldTable, aside: SetAside) -> Desk:
    folder = folder_of(car)
    written = _chosen(request, told, aside)
    known = file_matches_of(told.table.name, written.head)
    wanted = request.GET.get("as", "")
    known.sort(key=lambda match: str(match.pk) != wanted)  # the one asked for, else the latest
    latest = known[0] if known else None
    form = MatchForm(
        request.POST or None,
        told=told,
        head=written.head,
        names=_names(folder),
        offers=_offers(folder, told, request.user.get_username()),
        before=as_before(latest) if latest else None,
        initial={"remember_as": latest.name if latest else unnamed(aside.file)},
    )
    return Desk(
        car=car,
        folder=folder,
        told=told,
        file=aside.file,
        written=written,
        known=known,
        form=form,
    )


def _chosen(request: HttpRequest, told: ToldTable, aside: SetAside) -> Written:
    """Sheet that was asked for; else the first whose head was matched before; else the first."""
    asked = request.POST.get("sheet", request.GET.get("sheet", ""))
    by_number = {str(i): sheet for i, sheet in enumerate(aside.sheets)}
    known = (sheet for sheet in aside.sheets if file_matches_of(told.table.name, sheet.head))
    return by_number.get(asked) or next(known, aside.sheets[0])


def _names(folder: CarFolder) -> dict[str, list[str]]:
    """Names that a column may hold because the car has them."""
    sheets = {"panel": "panels", "part": "parts", "edge": "edges"}
    return {
        column: [row.text(column) for row in folder.sheet(table)]
        for column, table in sheets.items()
    }


def _offers(folder: CarFolder, told: ToldTable, username: str) -> dict[str, list[str]]:
    """Names to choose from that need not be the last word: one gauge is best written one way."""
    sheets = [folder.sheet(name) for name in ("shims", told.table.name)]
    found = {
        column: list(dict.fromkeys(filter(None, (r.text(column) for s in sheets for r in s))))
        for column in ("gauge", "instrument")
    }
    return {**found, "by": [username]}


def _forget(request: HttpRequest, desk: Desk) -> HttpResponse:
    match = next((m for m in desk.known if str(m.pk) == request.POST.get("match")), None)
    if match is not None:
        forget_file_match(match=match, by=request.user)
        messages.success(request, f"How “{match.name}” was matched is forgotten.")
    return redirect(request.get_full_path())


def _write(request: HttpRequest, desk: Desk, sheet: Sheet) -> None:
    rows = [dict(row.cells) for row in sheet]
    table = desk.told.table.name
    if table == "film":
        import_film_rows(car=desk.car, rows=rows, by=request.user)
    elif table == "parts":
        add_parts(car=desk.car, rows=rows, by=request.user)
    else:
        add_observations(car=desk.car, table=table, rows=rows, by=request.user)
    count = f"{len(rows)} {desk.told.noun}{'' if len(rows) == 1 else 's'}"
    said = f"{count} of {desk.file} {'is' if len(rows) == 1 else 'are'} written."
    name = remember(
        desk.form.cleaned_data["remember_as"],
        desk.form.match(),
        table=table,
        head=desk.written.head,
        file=desk.file,
        by=request.user,
    )
    if name:
        said += f" Its matching is remembered as “{name}”."
    messages.success(request, said)


def _preview(checked: upload.Checked, desk: Desk, sheets: tuple[Written, ...]) -> dict[str, Any]:
    match, written, sheet = desk.form.match(), desk.written, checked.sheet
    context: dict[str, Any] = {
        "told": desk.told,
        "form": desk.form,
        "known": desk.known,
        "file": desk.file,
        "sheet_number": next(i for i, s in enumerate(sheets) if s is written),
        "sheets": [(i, s.sheet, len(s.rows)) for i, s in enumerate(sheets)],
        "rows_n": len(written.rows),
        "dialect": "; ".join(
            [dialect_words(written), *upload.other_units(written, match, desk.told)]
        ),
        "left_out": [h for i, h in enumerate(written.head) if h and i not in match.places.values()],
        "faults": checked.faults[:FAULTS_SHOWN],
        "faults_n": len(checked.faults),
        "off_panel_n": checked.off_panel_n,
        "head": written.head,
        "raw": [cells for _, cells in written.rows[:ROWS_SHOWN]],
        "sheet": sheet,
    }
    if sheet is not None:
        context |= {
            "headings": [label_of(column) for column in sheet.columns],
            "preview": sheet.rows[:ROWS_SHOWN],
            "spots_n": len({(row.text("panel"), row.text("spot")) for row in sheet}),
            "on_panels_n": len({row.text("panel") for row in sheet}),
            "twins_n": upload.twins(sheet, desk.folder, desk.told.table),
        }
    return context
