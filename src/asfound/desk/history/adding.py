"""Writing down an event, and tying two of them."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.history.forms import EventForm, LinkForm
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car


@login_required
@require_http_methods(["GET", "POST"])
def event(request: HttpRequest, slug: str) -> HttpResponse:
    """Write down an event; the next one may follow at once."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    form = EventForm(request.POST or None, folder=folder)
    if request.method == "POST" and form.is_valid() and form.keep(car, by=request.user):
        messages.success(request, f"Kept: {form.cleaned_data['event']}.")
        if request.POST.get("step") == "next":
            return redirect("add-event", slug=slug)
        return redirect("history", slug=slug)
    told = {"title": "Write down an event", "subjects": _subjects(folder)}
    return _page(request, car, form, **told)


@login_required
@require_http_methods(["GET", "POST"])
def link(request: HttpRequest, slug: str) -> HttpResponse:
    """Tie two events; the next two may follow at once."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    form = LinkForm(request.POST or None, folder=folder, initial=request.GET.dict())
    if request.method == "POST" and form.is_valid() and form.keep(car, by=request.user):
        messages.success(request, f"Kept: {form.rows[-1]['id']}.")
        if request.POST.get("step") == "next":
            return redirect("add-link", slug=slug)
        return redirect(f"{reverse('history', args=(slug,))}#timeline")
    few = len(folder.sheet("events")) < 2
    return _page(request, car, form, title="Tie two events", few=few)


def _subjects(folder: CarFolder) -> list[str]:
    named = (("parts", "part"), ("panels", "panel"))
    return [row.text(column) for table, column in named for row in folder.sheet(table)]


def _page(request: HttpRequest, car: Car, form: Any, **told: Any) -> HttpResponse:
    status = 422 if form.is_bound else 200
    return show(
        request, "history/add.html", status=status, car=car, room="history", form=form, **told
    )
