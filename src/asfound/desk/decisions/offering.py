"""Options that the workshop's table offers, with the hours of its own finished work beside."""

from __future__ import annotations

from collections.abc import Sequence

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from asfound.desk.access import open_car, open_car_to_write, refuse_readers, show
from asfound.desk.decisions.offers import Offer, untouched_offers
from asfound.desk.decisions.remembered import set_totals_aside
from asfound.record.actions import add_options, piece_options, set_piece_options
from asfound.record.convert.past_hours import past_hours, with_past_hours
from asfound.record.convert.proposed_options import (
    pieces_without_rates,
    proposed_options,
    with_the_workshops,
)
from asfound.record.convert.stored import folder_of
from asfound.record.convert.trades import trades_of
from asfound.record.models import Car
from asfound.record.reads.money import money_settings
from asfound.record.reads.past import shop_past


@login_required
@require_http_methods(["GET", "POST"])
def offered(request: HttpRequest, slug: str) -> HttpResponse:
    """What the workshop's table offers for the pieces of the car; a POST takes what is marked."""
    car = open_car(request, slug)
    own, workshops = folder_of(car), money_settings().treatment_rates
    folder = with_the_workshops(own, workshops)
    past = shop_past()
    found = [Offer(one, past_hours(one.cells, past)) for one in proposed_options(folder)]
    if request.method == "POST":
        refuse_readers(request)
        return _add(request, car, found)
    return show(
        request,
        "decisions/offered.html",
        car=car,
        room="decisions",
        offered=list(enumerate(found)),
        with_past=any(one.past for one in found),
        untouched=[one for one in untouched_offers(folder, past) if one.past],
        trades=trades_of(folder),
        rates_n=len(folder.sheet("treatment_rates")),
        own_n=len(own.sheet("treatment_rates")),
        workshops_n=len(workshops),
        sizes_n=len(folder.sheet("piece_sizes")),
        without=pieces_without_rates(folder),
    )


def _add(request: HttpRequest, car: Car, found: Sequence[Offer]) -> HttpResponse:
    """Take what is marked, or one row with the hours of the past."""
    one_row = request.POST.get("past", "")
    picked = {one_row} if one_row else set(request.POST.getlist("take"))
    from_past = bool(one_row) or request.POST.get("hours") == "past"
    taken = [one for place, one in enumerate(found) if str(place) in picked]
    count = add_options(
        car=car,
        rows=[one.learned if from_past else one.option.cells for one in taken],
        rates=[one.option.rate for one in taken],
        by=request.user,
    )
    set_totals_aside(request, car)
    messages.success(request, f"{count} option{'' if count == 1 else 's'} added.")
    return redirect("offered-options" if one_row else "decisions", car.slug)


@login_required
@require_POST
def past_hours_taken(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Give an option that still has the table's hours those of the past."""
    car = open_car_to_write(request, slug)
    folder = with_the_workshops(folder_of(car), money_settings().treatment_rates)
    key = (subject, request.POST.get("take", ""))
    offers = [one for one in untouched_offers(folder, shop_past()) if one.option.key == key]
    if not offers or not offers[0].past:
        messages.warning(request, "Nothing was changed: somebody typed these hours meanwhile.")
    else:
        before = piece_options(car, subject)
        rows = [
            with_past_hours(row, offers[0].past) if row["option"] == key[1] else row
            for row in before
        ]
        set_piece_options(car=car, subject=subject, rows=rows, by=request.user, seen=before)
        set_totals_aside(request, car)
        messages.success(request, f"{subject}: {key[1]} now takes the hours of your past work.")
    return redirect(_back(request, slug, subject))


def _back(request: HttpRequest, slug: str, subject: str) -> str:
    if request.POST.get("back") == "offered-options":
        return reverse("offered-options", args=(slug,))
    return reverse("piece", args=(slug, subject))
