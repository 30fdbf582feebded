"""What is done on a card: begun, paused, done; a material, a result."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_POST

from asfound.base import AsfoundError, InputError
from asfound.desk.findings.keeping import NotTakenError, read_photo
from asfound.desk.observed.answering import is_for_script, kept_answer, pressed_at
from asfound.desk.observed.forms import RowForm
from asfound.desk.observed.keeping import keep_row
from asfound.desk.work.card import (
    Opened,
    begin_form,
    card_page,
    caution_word,
    done_form,
    opened,
)
from asfound.desk.work.doubts import doubts_of
from asfound.desk.work.forms import BeginForm, DoneForm, MaterialForm, PhotoForm, ResultForm
from asfound.desk.work.lines import card_address
from asfound.desk.work.told import TOLD
from asfound.exchange.photographs import keep_read
from asfound.record.actions.worked import finish_task, start_work, stop_work
from asfound.record.convert.begun import is_handling
from asfound.record.convert.worked import stretch_of
from asfound.record.derived import chosen_now
from asfound.record.reads.worked import open_stretches

VIEW = "whole"


@login_required
@require_POST
def begin(request: HttpRequest, slug: str) -> HttpResponse:
    """Begin, with the cautions read and the photograph before."""
    here = opened(request, slug)
    form = begin_form(here, request.POST, request.FILES)
    if not form.is_valid():
        return card_page(request, here, begin=form)
    cells = {
        **here.fixed,
        "person": here.person,
        "cautions_read": ";".join(map(caution_word, here.card.cautions)),
        "no_photo": form.cleaned_data.get("no_photo", "").strip(),
    }
    paused = [one for one in open_stretches(person=here.person) if not _is_here(one, here)]
    holds = _chosen(here)
    try:
        with transaction.atomic():
            _keep_photo(here, form, "before", request.user)
            key = form.cleaned_data["key"]
            start_work(
                car=here.car,
                cells=cells,
                by=request.user,
                key=key,
                holds=holds,
                at=pressed_at(request),
            )
    except (InputError, NotTakenError) as error:
        form.add_error(None, _said(error))
        return card_page(request, here, begin=form)
    told = "".join(f" {one.cells['task']} is paused." for one in paused)
    messages.success(request, f"Your time at {here.card.name} runs.{told}")
    return _back(request, here)


@login_required
@require_POST
def pause(request: HttpRequest, slug: str) -> HttpResponse:
    """Stop the time; the task goes on later."""
    here, at = opened(request, slug), pressed_at(request)
    running = open_stretches(car=here.car, task=here.card.task, person=here.person)
    running = [one for one in running if (stretch_of(one.cells).begun or at) <= at]
    for one in running:
        stop_work(stretch=one, done=False, by=request.user, at=at)
    if running:
        messages.success(request, f"{here.card.name} is paused.")
    else:
        messages.info(request, "Your time did not run here.")
    return _back(request, here)


@login_required
@require_POST
def done(request: HttpRequest, slug: str) -> HttpResponse:
    """The task is done, with the photograph after."""
    here = opened(request, slug)
    if is_for_script(request) and here.card.work.done:
        return kept_answer(request, reverse("todays-cards"))  # sent again, as its answer was lost
    form = done_form(here, request.POST, request.FILES)
    if not form.is_valid():
        return card_page(request, here, done=form)
    no_photo = form.cleaned_data.get("no_photo", "").strip()
    cells = {**here.fixed, "person": here.person, "no_photo": no_photo}
    holds = _chosen(here)
    try:
        with transaction.atomic():
            _keep_photo(here, form, "after", request.user)
            finish_task(
                car=here.car,
                cells=cells,
                by=request.user,
                holds=holds,
                at=pressed_at(request),
            )
    except (InputError, NotTakenError) as error:
        form.add_error(None, _said(error))
        return card_page(request, here, done=form)
    messages.success(request, f"{here.card.name} is done.")
    for words in doubts_of(opened(request, slug)):
        messages.warning(request, words)
    return kept_answer(request, reverse("todays-cards"))


@login_required
@require_POST
def photo(request: HttpRequest, slug: str) -> HttpResponse:
    """Keep a photograph of the piece; one that is sent twice is known by its bytes."""
    here = opened(request, slug)
    form = PhotoForm(request.POST, request.FILES, auto_id="photo_%s")
    if not form.is_valid():
        return card_page(request, here, photo=form)
    stage = form.cleaned_data["stage"]
    try:
        _keep_photo(here, form, stage, request.user)
    except NotTakenError as error:
        form.add_error("photo", str(error))
        return card_page(request, here, photo=form)
    messages.success(request, f"Photograph of {here.card.subject}, {stage}: kept.")
    return _back(request, here)


@login_required
@require_POST
def material(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down a material."""
    here = opened(request, slug)
    form = MaterialForm(request.POST, folder=here.folder, fixed=here.fixed, auto_id="material_%s")
    return _kept(request, here, form) or card_page(request, here, material=form)


@login_required
@require_POST
def result(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down a result."""
    here = opened(request, slug)
    form = ResultForm(request.POST, folder=here.folder, fixed=here.fixed, auto_id="result_%s")
    return _kept(request, here, form) or card_page(request, here, result=form)


def _kept(request: HttpRequest, here: Opened, form: RowForm) -> HttpResponse | None:
    """Back to the card once a row is kept; ``None`` where the form says why it is not."""
    if not form.is_valid():
        return None
    keep_row(request, here.car, form, told=TOLD[form.table])
    return _back(request, here)


def _chosen(here: Opened) -> str:
    """Option that is chosen now for a piece that nobody has locked; empty where there is none."""
    subject = here.card.subject
    has_options = here.car.options.filter(subject=subject).exists()
    is_locked = here.car.decisions.current().filter(subject=subject).exists()
    if not has_options or is_locked or is_handling(here.card.task, subject):
        return ""
    try:
        return chosen_now(here.folder).options.get(subject, "")
    except AsfoundError:
        return ""


def _keep_photo(here: Opened, form: BeginForm | DoneForm | PhotoForm, stage: str, by: Any) -> None:
    got = read_photo(form.cleaned_data.get("photo"))
    if got is not None:
        keep_read(got, car=here.car, subject=here.card.subject, view=VIEW, stage=stage, by=by)


def _is_here(one: Any, here: Opened) -> bool:
    return bool(one.car_id == here.car.pk and one.cells["task"] == here.card.task)


def _said(error: InputError | NotTakenError) -> str:
    if isinstance(error, InputError):
        return f"{error.got}; must be {error.allowed}. {error.remedy}"
    return str(error)


def _back(request: HttpRequest, here: Opened) -> HttpResponse:
    return kept_answer(request, card_address(here.car.slug, here.card.task))
