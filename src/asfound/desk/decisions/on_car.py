"""Saying which panel and which part of the car a piece is."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from asfound.base import InputError
from asfound.desk.access import open_car_to_write
from asfound.record.actions import set_piece_on_car
from asfound.record.folder import CarFolder


class OnCarForm(forms.Form):
    """The car's panels and parts to choose from; it shows what the piece says now."""

    panel = forms.ChoiceField(required=False)
    part = forms.ChoiceField(required=False)

    def __init__(self, folder: CarFolder, subject: str) -> None:
        rows = folder.sheet("subjects")
        own = next((row for row in rows if row.text("subject") == subject), None)
        now = {name: own.text(name) if own else "" for name in ("panel", "part")}
        super().__init__(initial=now, auto_id="on-car-%s")
        panels = [row.text("panel") for row in folder.sheet("panels")]
        names = {row.text("part"): row.text("name") for row in folder.sheet("parts")}
        parts = [(part, f"{part} {name}".rstrip()) for part, name in names.items()]
        self._choose("panel", [(panel, panel) for panel in panels])
        self._choose("part", parts)
        told = {"panel": now["panel"], "part": dict(parts).get(now["part"], now["part"])}
        self.words = ", ".join(f"{name} {cell}" for name, cell in told.items() if cell)
        self.has_choice = bool(panels or parts)

    def _choose(self, name: str, choices: list[tuple[str, str]]) -> None:
        first = ("", f"the {name} of its own name, if any")
        self.fields[name].choices = [first, *choices]  # type: ignore[attr-defined]  # a ChoiceField


@login_required
@require_POST
def on_car(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """The workshop says which panel and part a piece is."""
    car = open_car_to_write(request, slug)
    panel, part = (request.POST.get(name, "") for name in ("panel", "part"))
    try:
        set_piece_on_car(car=car, subject=subject, panel=panel, part=part, by=request.user)
    except InputError as error:
        messages.warning(request, f"Nothing was changed: {error}")
    else:
        messages.success(request, f"{subject}: where it is on the car is kept.")
    return redirect(f"{reverse('piece', args=(slug, subject))}#on-car")
