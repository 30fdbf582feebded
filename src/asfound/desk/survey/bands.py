"""The workshop's table of film bands: all may read it, the head keeps it."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.core.paginator import Paginator
from django.forms import Form
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import InputError
from asfound.desk.access import person_of, refuse_readers, show
from asfound.desk.survey.band_forms import BandForm, CorrectBandForm, ReasonForm
from asfound.desk.survey.beside import band_groups
from asfound.desk.survey.strips import ticks
from asfound.exchange import csv_bytes
from asfound.measure.base_of_films import DISAGREE
from asfound.record.actions import add_film_band, correct_film_band, withdraw_film_band
from asfound.record.convert.film_base import band_of, fields_of_band
from asfound.record.folder import Sheet
from asfound.record.models import FilmBand
from asfound.record.reads import film_bands, film_bands_gone

_BANDS_A_PAGE = 100
_GONE_A_PAGE = 20


@login_required
@require_GET
def film_bands_page(request: HttpRequest) -> HttpResponse:
    """Page of the table, with what no longer counts below it."""
    refuse_readers(request)
    page = Paginator(film_bands(), _BANDS_A_PAGE).get_page(request.GET.get("page"))
    return show(
        request,
        "survey/film_bands.html",
        page=page,
        groups=band_groups(page),
        ticks=ticks(),
        disagree=DISAGREE,
        gone=film_bands_gone()[:_GONE_A_PAGE],
        gone_n=film_bands_gone().count(),
        may_keep=_may_keep(request),
    )


@login_required
@require_GET
def film_bands_csv(request: HttpRequest) -> HttpResponse:
    """Every row that counts, as a table to take away."""
    refuse_readers(request)
    rows = [fields_of_band(band_of(row)) for row in film_bands()]
    columns = tuple(BandForm.base_fields)
    cells = tuple(tuple(_cell(row[name]) for name in columns) for row in rows)
    return HttpResponse(
        csv_bytes(Sheet(columns=columns, rows=cells)),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": 'attachment; filename="film-bands.csv"'},
    )


@login_required
@require_http_methods(["GET", "POST"])
def add_band(request: HttpRequest) -> HttpResponse:
    """Form of a new row."""
    _refuse_but_head(request)
    form = BandForm(request.POST or None)
    if form.is_valid():
        try:
            add_film_band(band=form.cleaned_data["band"], by=request.user)
        except InputError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, "The band is in the table.")
            return redirect("film-bands")
    return show(request, "survey/film_band.html", status=_status(form), form=form)


@login_required
@require_http_methods(["GET", "POST"])
def band(request: HttpRequest, pk: int) -> HttpResponse:
    """Page of one row with its two forms: correct it, withdraw it."""
    _refuse_but_head(request)
    row = get_object_or_404(FilmBand, pk=pk)
    if not row.counts:
        messages.warning(request, "That band was corrected or withdrawn already; see below.")
        return redirect("film-bands")
    step = request.POST.get("step")
    form = CorrectBandForm(
        request.POST if step == "correct" else None, initial=fields_of_band(band_of(row))
    )
    withdraw = ReasonForm(request.POST if step == "withdraw" else None, auto_id="withdraw_%s")
    said = _change(request, row, form, withdraw)
    if said:
        messages.success(request, said)
        return redirect("film-bands")
    return show(
        request,
        "survey/film_band.html",
        status=422 if step else 200,
        row=row,
        form=form,
        withdraw=withdraw,
    )


def _change(request: HttpRequest, row: FilmBand, form: Form, withdraw: Form) -> str:
    """Words on what was done; empty where nothing was, with the forms telling why."""
    by = request.user
    try:
        if form.is_valid():
            given = form.cleaned_data
            correct_film_band(row=row, band=given["band"], reason=given["reason"], by=by)
            return "The band is corrected; the old row is kept, struck through."
        if withdraw.is_valid():
            withdraw_film_band(row=row, reason=withdraw.cleaned_data["reason"], by=by)
            return "The band is withdrawn; it is kept, struck through."
    except InputError as error:
        (form if form.is_bound else withdraw).add_error(None, str(error))
    return ""


def _cell(value: object) -> str:
    if value is None:
        return ""
    return f"{value:g}" if isinstance(value, float) else str(value)


def _may_keep(request: HttpRequest) -> bool:
    person = person_of(request)
    return person is not None and person.is_head


def _refuse_but_head(request: HttpRequest) -> None:
    if not _may_keep(request):
        raise PermissionDenied("The head of the workshop keeps the tables that all cars share.")


def _status(form: Form) -> int:
    return 422 if form.is_bound else 200
