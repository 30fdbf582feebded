"""The ledger from as found to as left: by finish, part and significance, down to the piece."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import may_write, open_car, show
from asfound.desk.decisions.as_left import as_left_forms
from asfound.desk.decisions.ways import WAYS, counted_pieces, over_time, ways_of
from asfound.desk.observed.files import as_file
from asfound.dossier.figures import ledger_line_svg
from asfound.exchange import csv_bytes
from asfound.record.convert.ledger_days import LedgerDay
from asfound.record.convert.ledger_steps import StepPiece
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.results.ledger import state_words
from asfound.record.results.ledger_days import ledger_days_sheet

PIECES_A_PAGE = 200
DAYS_SHOWN = 40
LEFT_SHOWN = 20
FEW_DATES = 4


@login_required
@require_GET
def ledger(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the ledger in three steps and over time."""
    car = open_car(request, slug)
    folder = folder_of(car)
    try:
        ways, is_decided = ways_of(folder)
    except AsfoundError as error:
        return show(request, "decisions/ledger.html", car=car, room="decisions", refusal=str(error))
    left = list(as_left_forms(request, folder)) if may_write(request) else []
    every = {line.name: line for way in ways for line in way.told.pieces}
    page = Paginator(sorted(every.values(), key=_told_first), PIECES_A_PAGE).get_page(
        request.GET.get("page")
    )
    return show(
        request,
        "decisions/ledger.html",
        car=car,
        room="decisions",
        ways=ways,
        is_decided=is_decided,
        left=left[:LEFT_SHOWN],
        left_more_n=max(len(left) - LEFT_SHOWN, 0),
        page=page,
        lines=[(line, state_words(line.state)) for line in page],
        **_along(car, folder, request.GET.get("by", "")),
    )


@login_required
@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """The ledger over time, by every way to count, as CSV."""
    car = open_car(request, slug)
    folder = folder_of(car)
    try:
        counted = counted_pieces(folder)
    except AsfoundError as error:
        raise Http404(str(error)) from error
    ways = {WAYS[word]: over_time(car, folder, pieces) for word, pieces in counted.items()}
    sheet = ledger_days_sheet(ways)
    return as_file(csv_bytes(sheet), "text/csv; charset=utf-8", f"{slug}-ledger-over-time.csv")


def _along(car: Car, folder: CarFolder, asked: str) -> Mapping[str, Any]:
    """The ledger over time by one way to count: the one asked for, or the first there is."""
    counted = counted_pieces(folder)
    if not counted:
        return {}
    by = asked if asked in counted else next(iter(counted))
    days: tuple[LedgerDay, ...] = over_time(car, folder, counted[by])
    dates_n = len({day.day for day in days})
    return {
        "by": by,
        "by_name": WAYS[by],
        "days": days[:1] + days[1:][-DAYS_SHOWN:],
        "days_n": len(days),
        "dates_n": dates_n,
        "is_cut": len(days) > DAYS_SHOWN + 1,
        "is_few": dates_n < FEW_DATES,
        "line": ledger_line_svg(days) if dates_n > 1 else "",
    }


def _told_first(line: StepPiece) -> tuple[bool, bool, str]:
    return line.left is None, line.decided is None, line.name
