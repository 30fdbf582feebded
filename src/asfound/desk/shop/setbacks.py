"""What came between: late, away, closed, more hours; each entered in one line."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import refuse_readers, show
from asfound.desk.shop.making import begin_anew, state
from asfound.record.actions.setback import (
    SETBACK,
    away,
    closed,
    more_hours,
    named_task,
    not_before,
    tell_setback,
)
from asfound.record.actions.shop_plan import ADOPT
from asfound.record.convert.shop import CarAtWork
from asfound.record.convert.worked import TaskWork, work_by_task
from asfound.record.models import Car, Entry
from asfound.record.reads.shop_plan import cars_at_work

CAUSES_SHOWN = 30
_DAY = forms.DateInput(attrs={"type": "date"})
_BETWEEN = "/"


class _Setback(forms.Form):
    """One kind of setback; ``kept`` writes it and gives it in words."""

    kind = ""
    title = ""

    def __init__(self, data: QueryDict | None = None, *, cars: list[CarAtWork]) -> None:
        super().__init__(data, auto_id=f"{self.kind}_%s")
        self.cars = cars
        self.prepare()

    def prepare(self) -> None:
        """Offer what there is to choose from."""

    def kept(self, by: Any) -> str:
        """Write it."""
        raise NotImplementedError

    def about(self) -> dict[str, str]:
        """What the log's line tells beside the words."""
        return {}

    def car_task(self) -> tuple[Car, str]:
        """Task that was chosen, and its car."""
        slug, _, task = self.cleaned_data["task"].partition(_BETWEEN)
        return Car.objects.get(slug=slug), task

    def tables(self) -> list[Car]:
        """Cars whose tables name people and bays."""
        return list(Car.objects.filter(slug__in=[car.name for car in self.cars]))


class LateForm(_Setback):
    """A part, a supplier or a specialist is late."""

    kind, title = "late", "Something comes late"
    what = forms.CharField(label="What is late", max_length=120)
    task = forms.ChoiceField(label="Which task waits for it")
    until = forms.DateField(label="Not before", widget=_DAY)
    field_order = ("what", "task", "until")

    def prepare(self) -> None:
        """Offer the tasks."""
        self.fields["task"].choices = _tasks(self.cars)  # type: ignore[attr-defined]

    def kept(self, by: Any) -> str:
        """Write it."""
        car, task = self.car_task()
        until = self.cleaned_data["until"]
        not_before(car=car, task=task, until=until, today=timezone.localdate(), by=by)
        return f"{self.cleaned_data['what']}: {named_task(car, task)} not before {_words(until)}"

    def about(self) -> dict[str, str]:
        """Task that waits, for what, and until when."""
        car, task = self.car_task()
        given = self.cleaned_data
        late = {"what": given["what"], "until": given["until"].isoformat()}
        return {"car": car.slug, "task": task, **late}


class LongerForm(_Setback):
    """A task takes longer than was thought."""

    kind, title = "longer", "A task takes longer"
    task = forms.ChoiceField(label="Which task")
    hours = forms.FloatField(label="Hours more")
    what = forms.CharField(label="Why", max_length=120)

    def prepare(self) -> None:
        """Offer the tasks."""
        self.fields["task"].choices = _tasks(self.cars)  # type: ignore[attr-defined]

    def kept(self, by: Any) -> str:
        """Write it."""
        car, task = self.car_task()
        hours = self.cleaned_data["hours"]
        more_hours(car=car, task=task, hours=hours, by=by)
        return f"{named_task(car, task)} takes {hours:g} h more: {self.cleaned_data['what']}"


class _Span(_Setback):
    first = forms.DateField(label="From", widget=_DAY)
    last = forms.DateField(label="To, that day too", widget=_DAY)
    table, column = "", ""

    def prepare(self) -> None:
        """Offer the names that the tables have."""
        names = {r.text(self.column) for c in self.cars for r in c.folder.sheet(self.table)}
        chosen: Any = self.fields["name"]
        chosen.choices = [(name, name) for name in sorted(names)]

    def days(self) -> dict[str, Any]:
        """First and last day, and today."""
        given = self.cleaned_data
        return {"first": given["first"], "last": given["last"], "today": timezone.localdate()}


class AwayForm(_Span):
    """A person is away."""

    kind, title, table, column = "away", "Somebody is away", "people", "person"
    name = forms.ChoiceField(label="Who")
    field_order = ("name", "first", "last")

    def kept(self, by: Any) -> str:
        """Write it."""
        name, days = self.cleaned_data["name"], self.days()
        away(cars=self.tables(), person=name, by=by, **days)
        return f"{name} is away {_words(days['first'])} to {_words(days['last'])}"


class ClosedForm(_Span):
    """A place of a bay cannot be used."""

    kind, title, table, column = "closed", "A bay cannot be used", "bays", "bay"
    name = forms.ChoiceField(label="Which bay")
    field_order = ("name", "first", "last")

    def kept(self, by: Any) -> str:
        """Write it."""
        name, days = self.cleaned_data["name"], self.days()
        closed(cars=self.tables(), bay=name, by=by, **days)
        return f"{name} is closed {_words(days['first'])} to {_words(days['last'])}"


FORMS: tuple[Callable[..., _Setback], ...] = (LateForm, AwayForm, ClosedForm, LongerForm)


@login_required
@require_http_methods(["GET", "POST"])
def setbacks(request: HttpRequest) -> HttpResponse:
    """Page on which a setback is entered; a new plan is begun at once."""
    refuse_readers(request)
    cars, status = cars_at_work(), 200
    shown = []
    for make in FORMS:
        form = make(cars=cars)
        if request.method == "POST" and request.POST.get("kind") == form.kind:
            form, status = make(request.POST, cars=cars), 422
            if form.is_valid() and _keep(request, form):
                return redirect("shop")
        shown.append(form)
    return show(request, "shop/setbacks.html", status=status, forms=shown, **state())


def _keep(request: HttpRequest, form: _Setback) -> bool:
    try:
        with transaction.atomic():
            words = form.kept(request.user)
            tell_setback(words=words, by=request.user, **form.about())
    except InputError as error:
        form.add_error(
            None, f"{error.field} is {error.got}; it must be {error.allowed}. {error.remedy}"
        )
        return False
    messages.success(request, f"Written down: {words}. A new plan is being made.")
    begin_anew()
    return True


def causes_since_adopted() -> list[tuple[date, str]]:
    """Setbacks after the last adoption in the log, the oldest first."""
    found = Entry.objects.filter(action=SETBACK)
    adopted = Entry.objects.filter(action=ADOPT).order_by("-pk").first()
    if adopted is not None:
        found = found.filter(pk__gt=adopted.pk)
    newest = list(found.order_by("-pk")[:CAUSES_SHOWN])
    return [
        (timezone.localtime(one.at).date(), str((one.after or {}).get("words", "")))
        for one in reversed(newest)
    ]


def _tasks(cars: list[CarAtWork]) -> list[tuple[str, str]]:
    """Tasks that are not done."""
    now = timezone.now()
    found = []
    for car in cars:
        work = work_by_task(car.folder, now)
        for row in car.folder.sheet("tasks"):
            task = row.text("task")
            if not work.get(task, TaskWork()).done:
                words = f"{car.folder.name}: {task} {row.text('name')}"
                found.append((f"{car.name}{_BETWEEN}{task}", words))
    return found


def _words(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"
