"""A piece's page: what it is and where, what is left of it, and every hand it went through."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import InputError
from asfound.craft.salvage import Match
from asfound.desk.access import refuse_readers, show, wants_whole
from asfound.desk.salvage.adding import offers
from asfound.desk.salvage.drawing import flaw_words, left_words, piece_svg
from asfound.desk.salvage.finding import ended_of, find_row, uses_of
from asfound.record.convert.salvage import StockState
from asfound.record.convert.salvage_rows import state_of
from asfound.record.derived import salvage_matches
from asfound.record.models import Observation, SalvageRow
from asfound.record.reads import cars_for
from asfound.record.reads.salvage import needs_of_person, state_of_piece

HISTORY_SHOWN = 60
NEEDS_HELD = 30


@login_required
@require_GET
def piece(request: HttpRequest, number: str) -> HttpResponse:
    """Page of one piece."""
    refuse_readers(request)
    row = find_row(number)
    uses = uses_of(row)
    state = state_of(row, uses)
    return show(
        request,
        "salvage/piece.html",
        row=row,
        photos=row.piece.photos.filter(superseded_by=None, withdrawn_at=None),
        drawn=piece_svg(row, uses),
        left=left_words(state),
        flaws=flaw_words(row),
        is_whole_taken=state.is_whole_taken,
        uses=uses,
        ended=ended_of(row),
        before=_before(row),
        cars=cars_for(request.user),
        needs=_needs(request, state) if wants_whole(request) else None,
        **offers(request.user),
    )


@login_required
@require_GET
def serves(request: HttpRequest, number: str) -> HttpResponse:
    """Needs of all cars held against this piece, as a fragment."""
    refuse_readers(request)
    row = find_row(number)
    return show(
        request, "salvage/_serves.html", row=row, needs=_needs(request, state_of_piece(row))
    )


def _needs(request: HttpRequest, state: StockState) -> list[tuple[Observation, Match]]:
    """Open needs of this kind with how the piece answers them, the best first."""
    kind = state.cells["kind"].strip()
    wanted = needs_of_person(request.user).filter(cells__kind__iexact=kind)[:NEEDS_HELD]
    held = []
    for need in wanted:
        try:
            (match,) = salvage_matches(need.cells, [state])
        except InputError:
            continue  # a need that asks what cannot be is told on its own page
        held.append((need, match))
    rank = {"yes": 0, "not known": 1, "no": 2}
    return sorted(held, key=lambda pair: rank[pair[1].answer])


def _before(row: SalvageRow) -> list[SalvageRow]:
    rows = row.piece.rows.exclude(superseded_by=None).select_related("entered_by")
    return list(rows.order_by("-pk")[:HISTORY_SHOWN])
