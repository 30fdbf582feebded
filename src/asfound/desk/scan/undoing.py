"""Taking a whole scan back: everything that went into the place lies where it lay before."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.db.models import Max
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from asfound.desk.access import refuse_readers
from asfound.desk.undo import UNDO_TAG
from asfound.record.actions.restore_parts import undo_move, undo_piece_move
from asfound.record.actions.turn import take_turns
from asfound.record.models import Observation, Part, SalvageRow

_KEPT = "scan"
"""What the session knows the last scan by; an older one is taken back part by part."""


def last_move() -> int:
    """Key of the latest move of all, to tell those that follow."""
    found: int | None = Observation.objects.aggregate(last=Max("pk"))["last"]
    return found or 0


def moves_since(last: int, parts: Sequence[Part], by: Any) -> list[int]:
    """Keys of the moves of these parts that a person made since."""
    made = Observation.objects.current().filter(
        pk__gt=last,
        table="moves",
        entered_by=by,
        car__in={part.car_id for part in parts},
        subject__in={part.part for part in parts},
    )
    return list(made.order_by("pk").values_list("pk", flat=True))


def offer_scan_undo(
    request: HttpRequest, told: str, *, moves: Sequence[int], rows: Sequence[int]
) -> None:
    """Tell what a scan moved, with a button that takes all of it back."""
    request.session[_KEPT] = {"moves": list(moves), "rows": list(rows)}
    messages.success(request, told, extra_tags=f"{UNDO_TAG}{reverse('undo-scan')}")


@login_required
@require_POST
def undo_scan(request: HttpRequest) -> HttpResponse:
    """Take the last scan back, all or none."""
    refuse_readers(request)
    kept = request.session.get(_KEPT)
    if not kept:
        raise Http404
    moves = list(Observation.objects.filter(pk__in=kept["moves"]).order_by("pk"))
    rows = list(SalvageRow.objects.filter(pk__in=kept["rows"]).order_by("pk"))
    with transaction.atomic():
        take_turns(move.car_id for move in moves)
        for move in moves:
            undo_move(move=move, by=request.user)
        for row in rows:
            undo_piece_move(row=row, by=request.user)
    del request.session[_KEPT]
    count = len(moves) + len(rows)
    told = "1 part lies where it" if count == 1 else f"{count} parts lie where they"
    messages.success(request, f"{told} lay before. The log keeps both lines.")
    return redirect("scan")
