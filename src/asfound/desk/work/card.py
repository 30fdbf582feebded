"""One card: cautions, what to leave alone, photographs, time, materials, results, findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET

from asfound.craft.cautions import DEFER, Caution
from asfound.desk.access import open_car_to_write, show
from asfound.desk.findings.subjects import find_about
from asfound.desk.holds.promise import holds_on
from asfound.desk.observed.answering import is_for_script, refused_answer
from asfound.desk.photos.lines import PhotoLine, photo_lines
from asfound.desk.work.forms import (
    BeginForm,
    DoneForm,
    MaterialForm,
    PauseForm,
    PhotoForm,
    ResultForm,
)
from asfound.desk.work.offered import lists_of, material_chips, result_chips
from asfound.desk.work.told import entry_lines
from asfound.desk.work.who import worker_in
from asfound.record.actions.photo import STAGES
from asfound.record.convert.cards import WHOLE_CAR, Card, cards_of
from asfound.record.convert.treatment_words import TreatmentWords, words_of
from asfound.record.convert.work_words import hours_words
from asfound.record.convert.worked import stretch_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.reads.worked import on_card, open_stretches
from asfound.record.reads.workshop import planning_folder

PHOTOS_SHOWN = 6
LONG_H = 10.0
"""A stretch without a break that is asked about: no rule, only a sign that an end was forgotten."""
_STAGE_WHILE = {"ready": "before", "done": "after"}
STATES = {"ready": "Your time", "running": "Your time runs", "paused": "Paused", "done": "Done"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A card that was asked for, with its car and who asks."""

    car: Car
    folder: CarFolder
    card: Card
    person: str

    @property
    def fixed(self) -> dict[str, str]:
        """Cells that every row of the card has."""
        return {"task": self.card.task, "subject": self.card.subject}


def opened(request: HttpRequest, slug: str) -> Opened:
    """Card of the task in the address.

    Raises
    ------
    Http404
        If the car has no such task.
    """
    car = open_car_to_write(request, slug)
    folder, task = planning_folder(car), request.GET.get("task", "")
    for card in cards_of(folder, now=timezone.now()):
        if card.task == task:
            return Opened(car=car, folder=folder, card=card, person=worker_in(request, folder))
    raise Http404(task)


@login_required
@require_GET
def card(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of a card."""
    return card_page(request, opened(request, slug))


def card_page(request: HttpRequest, here: Opened, **forms: Any) -> HttpResponse:
    """Page of a card, with forms that have something to say."""
    car, one = here.car, here.card
    if is_for_script(request) and (wrong := next((f for f in forms.values() if f.errors), None)):
        return refused_answer(wrong)
    state = state_of(here)
    stage = _STAGE_WHILE.get(state, "during")
    told: dict[str, Any] = {
        "pause": PauseForm(auto_id="pause_%s"),
        "begin": begin_form(here),
        "done": done_form(here),
        "photo": PhotoForm(initial={"stage": stage}, auto_id="photo_%s"),
        "material": MaterialForm(folder=here.folder, fixed=here.fixed, auto_id="material_%s"),
        "result": ResultForm(folder=here.folder, fixed=here.fixed, auto_id="result_%s"),
        **forms,
    }
    photos = [(stage, _photos(car, one.subject, stage)) for stage in STAGES]
    is_wrong = any(form.is_bound and form.errors for form in told.values())
    return show(
        request,
        "work/card.html",
        status=422 if is_wrong else 200,
        car=car,
        room="work",
        card=one,
        state=state,
        states=STATES,
        ran_long=_ran_long(here),
        others=[name for name in one.work.running if name != here.person],
        name=here.person,
        query=urlencode({"task": one.task}),
        worked_words=hours_words(one.work.hours),
        treatment=_words(one),
        defer=DEFER,
        photos=photos,
        first=photos[0][1][-1:],
        finding_address=_finding_address(here),
        lists=lists_of(car),
        material_chips=material_chips(car),
        result_chips=result_chips(car),
        entries=entry_lines(car, one.task),
        held=holds_on(car, task=one.task, subject=one.subject),
        is_whole_car=one.subject == WHOLE_CAR,
        **{f"{name}_form": form for name, form in told.items()},
    )


def _ran_long(here: Opened) -> str:
    """How long the person's time has run, where it is longer than anybody works at a stretch."""
    now = timezone.now()
    running = open_stretches(car=here.car, task=here.card.task, person=here.person)
    hours = max((stretch_of(one.cells).hours(now) for one in running), default=0.0)
    return hours_words(hours) if hours > LONG_H else ""


def state_of(here: Opened) -> str:
    """How the card stands for the person, of ``STATES``."""
    if here.card.work.done:
        return "done"
    if here.person in here.card.work.running:
        return "running"
    return "paused" if here.person in here.card.work.people else "ready"


def _has_read(here: Opened) -> bool:
    """Whether the person read today what the card warns of."""
    rows = on_card(here.car, "worked", here.card.task)
    today = timezone.localdate()
    read = {
        hazard
        for one in rows
        if one.cells.get("person") == here.person
        and (begun := stretch_of(one.cells).begun) is not None
        and timezone.localdate(begun) == today
        for hazard in one.cells.get("cautions_read", "").split(";")
    }
    return read >= {caution_word(one) for one in here.card.cautions}


def _said_why(here: Opened) -> bool:
    """Whether somebody who began the card said why there is no photograph before."""
    return any(one.cells.get("no_photo") for one in on_card(here.car, "worked", here.card.task))


def caution_word(one: Caution) -> str:
    """A caution as a stretch of work says that it was read."""
    return one.hazard.replace(";", ",")


def begin_form(here: Opened, *sent: Any) -> BeginForm:
    """Form that begins the work."""
    is_wanted = here.card.photos_wanted and not has_photo(here, "before")
    is_needed = is_wanted and not _said_why(here)
    return BeginForm(
        *sent, has_cautions=not _has_read(here), photo_needed=is_needed, auto_id="begin_%s"
    )


def done_form(here: Opened, *sent: Any) -> DoneForm:
    """Form that says that the task is done."""
    is_due = here.card.photos_wanted and here.card.is_last
    is_needed = is_due and not has_photo(here, "after")
    return DoneForm(*sent, photo_needed=is_needed, auto_id="done_%s")


def has_photo(here: Opened, stage: str) -> bool:
    """Whether the piece has a photograph of that stage."""
    found = here.car.photos.current().filter(subject=here.card.subject, stage=stage)
    return bool(found.exists())


def _photos(car: Car, subject: str, stage: str) -> list[PhotoLine]:
    found = car.photos.current().filter(subject=subject, stage=stage)
    return photo_lines(car, found.order_by("-position")[:PHOTOS_SHOWN])


def _words(one: Card) -> TreatmentWords | None:
    return words_of(one.treatment) if one.treatment else None


def _finding_address(here: Opened) -> str:
    """Form of a finding on the piece, or on the part or panel that the piece is said to be."""
    address = reverse("add-finding", args=(here.car.slug,))
    if here.card.subject == WHOLE_CAR:
        return address
    piece = here.car.subjects.filter(subject=here.card.subject).first()
    said = (piece.extra.get(name, "") for name in ("part", "panel")) if piece else ()
    names = [here.card.subject, *said]
    subject = next((name for name in names if find_about(here.car, name)), names[0])
    return f"{address}?{urlencode({'subject': subject})}"
