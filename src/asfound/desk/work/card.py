"""One card: cautions, what to leave alone, photographs, time, materials, results, findings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.contrib.auth.decorators import login_required
from django.db.models.fields.json import KT
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET

from asfound.craft.cautions import DEFER
from asfound.desk.access import open_car_to_write, show
from asfound.desk.holds.promise import holds_on
from asfound.desk.photos.lines import PhotoLine, photo_lines
from asfound.desk.work.forms import BeginForm, DoneForm, MaterialForm, ResultForm
from asfound.desk.work.lines import group_of
from asfound.desk.work.told import entry_lines
from asfound.desk.work.who import worker_in
from asfound.record.convert.cards import WHOLE_CAR, Card, cards_of
from asfound.record.convert.treatment_words import TreatmentWords, words_of
from asfound.record.convert.work_words import hours_words
from asfound.record.convert.worked import stretch_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Observation
from asfound.record.reads.worked import open_stretches
from asfound.record.reads.workshop import planning_folder

PHOTOS_SHOWN = 6
MET = 40
LONG_H = 10.0
"""A stretch without a break that is asked about: no rule, only a sign that an end was forgotten."""
KINDS = ("film", "torque", "clearance", "gap", "end float", "pressure", "resistance", "depth")
RESULT_UNITS = ("µm", "Nm", "mm", "bar", "Ω", "V", "°C")
UNITS = ("g", "ml", "m", "dm²", "pieces")


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
    before, after = (_photos(car, one.subject, stage) for stage in ("before", "after"))
    told: dict[str, Any] = {
        "begin": begin_form(here),
        "done": done_form(here),
        "material": MaterialForm(folder=here.folder, fixed=here.fixed, auto_id="material_%s"),
        "result": ResultForm(folder=here.folder, fixed=here.fixed, auto_id="result_%s"),
        **forms,
    }
    is_wrong = any(form.is_bound and form.errors for form in told.values())
    return show(
        request,
        "work/card.html",
        status=422 if is_wrong else 200,
        car=car,
        room="work",
        card=one,
        group=group_of(one, here.person, timezone.localtime()),
        is_running=here.person in one.work.running,
        ran_long=_ran_long(here),
        others=[name for name in one.work.running if name != here.person],
        name=here.person,
        query=urlencode({"task": one.task}),
        worked_words=hours_words(one.work.hours),
        treatment=_words(one),
        defer=DEFER,
        before=before,
        after=after,
        finding_address=_finding_address(here),
        lists=_lists(car),
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


def begin_form(here: Opened, *sent: Any) -> BeginForm:
    """Form that begins the work."""
    is_needed = here.card.photos_wanted and not has_photo(here, "before")
    return BeginForm(
        *sent, has_cautions=bool(here.card.cautions), photo_needed=is_needed, auto_id="begin_%s"
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
    subject = "" if here.card.subject == WHOLE_CAR else here.card.subject
    address = reverse("add-finding", args=(here.car.slug,))
    return f"{address}?{urlencode({'subject': subject})}" if subject else address


def _lists(car: Car) -> dict[str, list[str]]:
    """Words offered while one types: those met before, then the usual ones."""
    return {
        "materials": _met(car, "materials_used", "material"),
        "units": _with(_met(car, "materials_used", "unit"), UNITS),
        "result-kinds": _with(_met(car, "results", "kind"), KINDS),
        "result-units": _with(_met(car, "results", "unit"), RESULT_UNITS),
        "tools": _met(car, "results", "tool"),
    }


def _met(car: Car, table: str, column: str) -> list[str]:
    rows = Observation.objects.current().filter(car=car, table=table).order_by("-pk")
    return list(dict.fromkeys(w for w in rows.values_list(KT(f"cells__{column}"), flat=True) if w))[
        :MET
    ]


def _with(met: list[str], usual: tuple[str, ...]) -> list[str]:
    return list(dict.fromkeys([*met, *usual]))
