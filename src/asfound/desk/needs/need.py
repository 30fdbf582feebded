"""One need: what is asked, and which pieces of the stock serve, ranked with the reasons."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import shapely
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.base import InputError
from asfound.craft.salvage import Match
from asfound.craft.salvage.matching import ORDER
from asfound.desk.access import open_car_to_write, show, wants_whole
from asfound.desk.needs.forms import CorrectNeedForm
from asfound.desk.needs.listing import filled, parts_offered
from asfound.desk.salvage.adding import offers
from asfound.desk.salvage.drawing import piece_svg
from asfound.desk.survey.forms import WithdrawalForm
from asfound.desk.undo import offer_undo
from asfound.record.actions import withdraw_observation
from asfound.record.actions.need import correct_need
from asfound.record.derived import salvage_matches
from asfound.record.models import Car, Observation, SalvageRow, SalvageUse
from asfound.record.reads.errands import latest_of
from asfound.record.reads.salvage import served, states_of, stock

HELD = 400
"""More pieces of one kind than a workshop keeps; the latest are held against the need."""
PICTURED = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchLine:
    """A piece as the page of a need shows it."""

    match: Match
    row: SalvageRow
    drawn: str
    outline_wkt: str


@login_required
@require_GET
def need(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of a need; the pieces follow, for laying them out may take a while."""
    car = open_car_to_write(request, slug)
    found = find_need(car, pk)
    if found.pk != pk:
        return redirect("need", slug, found.pk)
    told = _matches(found) if wants_whole(request) else {}
    return show(
        request,
        "needs/need.html",
        car=car,
        room="parts",
        need=found,
        cells=found.cells,
        size=_size(found),
        uses=served([found]).get(found.pk, []),
        **told,
    )


@login_required
@require_GET
def matches(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Pieces held against the need, as a fragment."""
    car = open_car_to_write(request, slug)
    found = find_need(car, pk)
    told = _matches(found)
    return show(request, "needs/_matches.html", car=car, need=found, cells=found.cells, **told)


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Form that tells a need rightly; what it said before is kept."""
    car = open_car_to_write(request, slug)
    found = find_need(car, pk)
    form = CorrectNeedForm(
        request.POST or None, car=car, was=found.cells["need"], initial=dict(found.cells)
    )
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        kept = {"outline_wkt": found.cells.get("outline_wkt", ""), **data["cells"]}
        blank = dict.fromkeys(set(found.cells) - {"by"}, "")
        new = correct_need(
            need=found,
            cells={**blank, **filled(kept)},
            reason=data["reason"],
            by=request.user,
        )
        messages.success(request, "The need is corrected; what it said before is kept.")
        return redirect("need", slug, new.pk)
    return show(
        request,
        "needs/correct.html",
        status=422 if form.errors else 200,
        car=car,
        room="parts",
        need=found,
        size=_size(found),
        form=form,
        withdraw=WithdrawalForm(auto_id="withdraw_%s"),
        parts=parts_offered(car),
        **offers(request.user),
    )


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """The need counts no longer; it is kept with the reason."""
    car = open_car_to_write(request, slug)
    found = find_need(car, pk)
    withdraw_observation(observation=found, reason=request.POST.get("reason", ""), by=request.user)
    said = f"The need {found.cells['need']} is withdrawn; it is kept with the reason."
    offer_undo(request, said, car=car, kind="observation", pk=found.pk)
    return redirect("needs", slug)


def find_need(car: Car, pk: int) -> Observation:
    """Need of the car as it counts now."""
    first = car.observations.filter(pk=pk, table="needs").first()
    found = None if first is None else latest_of(first)
    if found is None or found.withdrawn_at is not None:
        raise Http404(str(pk))
    return found


def _size(found: Observation) -> str:
    text = found.cells.get("outline_wkt", "")
    if not text:
        return ""
    shape = shapely.from_wkt(text)
    x0, y0, x1, y1 = shape.bounds
    return f"{x1 - x0:.0f} × {y1 - y0:.0f} mm, {shape.area / 1e4:.1f} dm²"


def _matches(found: Observation) -> dict[str, Any]:
    """Pieces of the kind, the best first, in three queries."""
    rows = list(stock(kind=found.cells["kind"].strip())[:HELD])
    try:
        held = salvage_matches(found.cells, states_of(rows))
    except InputError as error:
        return {"refusal": f"{error.field} is {error.got}; it must be {error.allowed}."}
    by_number = {row.piece.number: row for row in rows}
    uses: dict[int, list[SalvageUse]] = {}
    shown = [by_number[match.number].piece_id for match in held[:PICTURED]]
    for use in SalvageUse.objects.current().filter(piece__in=shown):
        uses.setdefault(use.piece_id, []).append(use)
    lines = [
        _line(match, by_number[match.number], uses, is_drawn=n < PICTURED)
        for n, match in enumerate(held)
    ]
    return {
        "groups": [
            (words, [line for line in lines if line.match.answer == answer])
            for answer, words in (
                ("yes", "They serve"),
                ("not known", "They may serve: something is not known"),
                ("no", "They do not serve"),
            )
        ],
        "held_n": len(lines),
        "order": ORDER,
    }


def _line(
    match: Match, row: SalvageRow, uses: dict[int, list[SalvageUse]], *, is_drawn: bool
) -> MatchLine:
    laid = None if match.laid is None else match.laid.placed
    drawn = piece_svg(row, uses.get(row.piece_id, ()), laid=laid) if is_drawn else ""
    wkt = "" if laid is None else str(shapely.to_wkt(laid, rounding_precision=2))
    return MatchLine(match=match, row=row, drawn=drawn, outline_wkt=wkt)
