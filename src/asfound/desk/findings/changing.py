"""A finding corrected, withdrawn, given an opinion or a photograph; the old version stays."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from asfound.base import InputError
from asfound.desk.access import open_car_to_write, show
from asfound.desk.findings.entering import figure_of, photo_context, words_offered
from asfound.desk.findings.finding import find_finding, finding_page
from asfound.desk.findings.forms import (
    CORNERS,
    CorrectForm,
    OpinionForm,
    PhotoForm,
    WithdrawFindingForm,
)
from asfound.desk.findings.keeping import DAMAGE, NotTakenError, opinion_of, read_photo
from asfound.desk.findings.lines import finding_lines, lines_on
from asfound.desk.findings.subjects import about_or_404
from asfound.desk.undo import offer_undo
from asfound.exchange.photographs import keep_read
from asfound.record.actions import correct_observation, reopen_decision, withdraw_observation
from asfound.record.convert.findings import Finding, files_of
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car, Observation

_GONE = "That finding was corrected or withdrawn already; nothing was changed now."
_NO_OPINION = dict.fromkeys(("opinion", "active", "advice", "opinion_by", "opinion_on"), "")


def _opened(request: HttpRequest, slug: str, pk: int) -> tuple[Car, Observation]:
    car = open_car_to_write(request, slug)
    return car, find_finding(car, pk, request)


def _is_gone(request: HttpRequest, row: Observation) -> bool:
    if not row.counts:
        messages.warning(request, _GONE)
    return not row.counts


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page that puts an observation right; an opinion on it stays as it is."""
    car, row = _opened(request, slug, pk)
    if _is_gone(request, row):
        return redirect("finding", slug, pk)
    about, folder = about_or_404(car, row.subject), folder_of(car)
    (line,) = finding_lines(car, [row])
    form = CorrectForm(
        request.POST or None,
        folder=folder,
        panel=row.subject if about.is_drawn else "",
        initial={**row.cells, **_corners(line.finding)},
    )
    if request.method == "POST" and form.is_valid():
        new = correct_observation(
            observation=row,
            cells=form.observed_cells(),
            reason=form.cleaned_data["reason"],
            by=request.user,
        )
        messages.success(request, "The finding is corrected; how it stood before is kept below.")
        return redirect("finding", slug, new.pk)
    others = [one for one in lines_on(car, row.subject) if one.pk != row.pk]
    first = car.photos.current().filter(file=next(iter(line.finding.photos), "")).first()
    return show(
        request,
        "findings/correct.html",
        status=422 if form.errors else 200,
        car=car,
        room="findings",
        line=line,
        about=about,
        form=form,
        figure=figure_of(folder, about, [one.numbered for one in others]),
        **photo_context(car, first, but=row),
        **words_offered(car, about),
    )


def _corners(finding: Finding) -> dict[str, str]:
    """Box around the mark on the photograph, in per cent."""
    if not finding.marks:
        return {}
    xs, ys = zip(*finding.marks[0].points, strict=True)
    box = (min(xs), min(ys), max(xs), max(ys))
    return {name: f"{100 * share:.4g}" for name, share in zip(CORNERS, box, strict=True)}


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Let a finding count no longer, with the reason; offered to be undone."""
    car, row = _opened(request, slug, pk)
    if _is_gone(request, row):
        return redirect("finding", slug, pk)
    form = WithdrawFindingForm(request.POST, auto_id="withdraw_%s")
    if not form.is_valid():
        return finding_page(request, car, row, status=422, withdraw=form)
    withdraw_observation(observation=row, reason=form.cleaned_data["reason"], by=request.user)
    said = "The finding is withdrawn; it is kept with the reason."
    offer_undo(request, said, car=car, kind="observation", pk=row.pk)
    return redirect("finding-subject", slug, row.subject)


@login_required
@require_POST
def reopen(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """The finding changes what was decided: the work on its piece is held for the head to see."""
    _car, row = _opened(request, slug, pk)
    try:
        hold = reopen_decision(finding=row, by=request.user)
    except InputError as error:
        messages.warning(request, f"Nothing was changed: {error}")
        return redirect("finding", slug, pk)
    messages.success(request, f"The work on {hold.subject} is held until the head has seen it.")
    return redirect("reopened", slug, hold.pk)


@login_required
@require_POST
def give_opinion(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """An opinion under the name of who is signed in; an empty one takes the old away."""
    car, row = _opened(request, slug, pk)
    if _is_gone(request, row):
        return redirect("finding", slug, pk)
    form = OpinionForm(request.POST)
    if not form.is_valid():
        return finding_page(request, car, row, status=422, opinion_form=form)
    said = form.opinion_cells()
    if all(row.cells.get(name, "") == text for name, text in said.items()):
        messages.info(request, "The opinion reads as before; nothing was changed.")
        return redirect("finding", slug, pk)
    cells = opinion_of(said, request.user) or _NO_OPINION
    reason = "opinion given" if any(said.values()) else "opinion taken away"
    new = correct_observation(observation=row, cells=cells, reason=reason, by=request.user)
    messages.success(request, "The opinion is kept under your name, apart from the observation.")
    return redirect("finding", slug, new.pk)


@login_required
@require_POST
def add_photo(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """One more photograph of the finding; the first bears its mark."""
    car, row = _opened(request, slug, pk)
    if _is_gone(request, row):
        return redirect("finding", slug, pk)
    form = PhotoForm(request.POST, request.FILES)
    if not form.is_valid():
        return finding_page(request, car, row, status=422, photo_form=form)
    try:
        new = _with_photo(car, row, form, request.user)
    except NotTakenError as error:
        form.add_error("photo", str(error))
        return finding_page(request, car, row, status=422, photo_form=form)
    messages.success(request, "The photograph is kept with the finding.")
    return redirect("finding", slug, new.pk)


def _with_photo(car: Car, row: Observation, form: PhotoForm, by: Any) -> Observation:
    got = read_photo(form.cleaned_data["photo"])
    assert got is not None, "the form asks for a photograph"
    with transaction.atomic():
        kept = keep_read(got, car=car, subject=row.subject, by=by, **DAMAGE)
        files = files_of(f"{row.cells.get('photo', '')};{kept.file}")
        if len(files) == len(files_of(row.cells.get("photo", ""))):
            return row
        cells = {"photo": ";".join(files)}
        reason = "photograph added"
        return correct_observation(observation=row, cells=cells, reason=reason, by=by)
