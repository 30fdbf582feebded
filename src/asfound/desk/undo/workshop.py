"""Taking back what was withdrawn of the things that all cars share."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.views.decorators.http import require_POST

from asfound.desk.access import refuse_readers
from asfound.desk.undo.way import Way
from asfound.record.actions.restore import restore_place, restore_template
from asfound.record.actions.restore_parts import undo_place_move
from asfound.record.actions.salvage import restore_piece
from asfound.record.actions.salvage_photo import restore_salvage_photo
from asfound.record.actions.salvage_use import restore_use
from asfound.record.models import (
    AssemblyTemplate,
    Entry,
    Place,
    SalvagePhoto,
    SalvageRow,
    SalvageUse,
)

_WAYS = {
    "place": Way(
        model=Place, restore=restore_place, field="place", told="The place is in use again."
    ),
    "place-move": Way(
        model=Entry, restore=undo_place_move, field="entry", told="It stands where it stood."
    ),
    "template": Way(
        model=AssemblyTemplate,
        restore=restore_template,
        field="template",
        told="The template is offered again.",
    ),
    "salvage-piece": Way(
        model=SalvageRow, restore=restore_piece, field="row", told="The piece is offered again."
    ),
    "salvage-use": Way(
        model=SalvageUse, restore=restore_use, field="use", told="It is taken again as it was."
    ),
    "salvage-photo": Way(
        model=SalvagePhoto,
        restore=restore_salvage_photo,
        field="photo",
        told="The photograph is shown again.",
    ),
}


@login_required
@require_POST
def undo_workshop(request: HttpRequest, kind: str, pk: int) -> HttpResponse:
    """Take one withdrawal back and return to the page that offered it."""
    refuse_readers(request)
    way = _WAYS.get(kind)
    if way is None:
        raise Http404(kind)
    withdrawn: Any = get_object_or_404(way.model, pk=pk)
    return way.take_back(request, withdrawn, else_to=reverse("cars"))
