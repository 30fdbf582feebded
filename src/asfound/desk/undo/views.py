"""Taking back what was withdrawn."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_POST

from asfound.desk.access import open_car_to_write
from asfound.desk.decisions.remembered import set_totals_aside
from asfound.desk.undo.way import Way
from asfound.record.actions import (
    restore_film_reading,
    restore_lock,
    restore_observation,
    restore_photo,
    undo_came_off,
    undo_on_again,
    undo_set_sheet,
)
from asfound.record.actions.restore_parts import (
    restore_part,
    undo_move,
    undo_part_change,
    undo_photo_change,
)
from asfound.record.models import (
    Decision,
    Entry,
    FilmReading,
    Observation,
    Part,
    Photo,
)

_WAYS = {
    "film-reading": Way(
        model=FilmReading,
        restore=restore_film_reading,
        field="reading",
        told="The reading counts again.",
    ),
    "observation": Way(
        model=Observation,
        restore=restore_observation,
        field="observation",
        told="The reading counts again.",
        told_of={
            "findings": "The finding stands again.",
            "needs": "The need stands again.",
            "errands": "The errand stands again.",
            "moves": "It lies there again.",
            "worked": "The hours count again.",
            "materials_used": "The material counts again.",
            "results": "The result counts again.",
            "dissents": "The other opinion stands again.",
        },
    ),
    "photo": Way(
        model=Photo, restore=restore_photo, field="photo", told="The photograph is shown again."
    ),
    "photo-change": Way(
        model=Photo,
        restore=undo_photo_change,
        field="photo",
        told="The photograph stands as it did before.",
    ),
    "move": Way(
        model=Observation, restore=undo_move, field="move", told="It lies where it lay before."
    ),
    "part": Way(
        model=Part, restore=restore_part, field="part", told="The part is there again as it was."
    ),
    "part-change": Way(
        model=Entry,
        restore=undo_part_change,
        field="entry",
        told="The part is described as it was before.",
    ),
    "came-off": Way(
        model=Entry,
        restore=undo_came_off,
        field="entry",
        told="It is as it was before.",
    ),
    "on-again": Way(
        model=Entry, restore=undo_on_again, field="entry", told="It is off again as it was."
    ),
    "sheet": Way(
        model=Entry, restore=undo_set_sheet, field="entry", told="The table is as it was before."
    ),
    "lock": Way(
        model=Decision, restore=restore_lock, field="decision", told="It is locked again as it was."
    ),
}


@login_required
@require_POST
def undo(request: HttpRequest, slug: str, kind: str, pk: int) -> HttpResponse:
    """Take one withdrawal back and return to the page that offered it."""
    car = open_car_to_write(request, slug)
    way = _WAYS.get(kind)
    if way is None:
        raise Http404(kind)
    withdrawn = get_object_or_404(way.model, car=car, pk=pk)
    answer = way.take_back(request, withdrawn, else_to=reverse("car", args=(car.slug,)))
    if kind == "lock":
        set_totals_aside(request, car)
    return answer
