"""Rooms, shelves, boxes and bags, and what lies in them."""

from __future__ import annotations

from collections import defaultdict

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.desk.access import may_write, refuse_readers, show
from asfound.desk.errands.lines import out_words
from asfound.desk.undo import offer_workshop_undo
from asfound.record.actions import add_place, move_place, plain_tag, withdraw_place
from asfound.record.models import Part, Place
from asfound.record.models.place import PlaceKind
from asfound.record.reads import cars_for
from asfound.record.reads.log import latest_entry
from asfound.record.reads.register import (
    PLACES_OFFERED,
    counts_by_place,
    part_with_tag,
    place_with_tag,
    places_not_entered,
)
from asfound.record.reads.salvage import piece_with_tag, pieces_in

PARTS_A_PAGE = PLACES_A_PAGE = 100
NOT_ENTERED_SHOWN = 60
PIECES_SHOWN = 200


class PlaceForm(forms.Form):
    """A place by its name."""

    name = forms.CharField(label="name", widget=forms.TextInput(attrs={"autocomplete": "off"}))
    kind = forms.ChoiceField(label="kind", choices=PlaceKind.choices, initial=PlaceKind.BOX)
    within = forms.ModelChoiceField(
        label="within",
        queryset=Place.objects.filter(withdrawn_at=None),
        required=False,
        empty_label="no other place",
    )
    note = forms.CharField(label="note", required=False)


@login_required
@require_http_methods(["GET", "POST"])
def places(request: HttpRequest) -> HttpResponse:
    """Every place under the one it lies in; a form for a new one."""
    refuse_readers(request)
    form = PlaceForm(request.POST or None, initial={"name": request.GET.get("name", "")})
    if request.method == "POST" and form.is_valid():
        made = add_place(by=request.user, **form.cleaned_data)
        messages.success(request, f"{made.name} is there, tag {made.tag}.")
        return redirect("places")
    page = Paginator(_lines(list(Place.objects.filter(withdrawn_at=None))), PLACES_A_PAGE).get_page(
        request.GET.get("page")
    )
    counts = counts_by_place([place.name for place, _ in page])
    return show(
        request,
        "places/list.html",
        status=422 if form.errors else 200,
        form=form,
        page=page,
        lines=[(place, depth, counts.get(place.name, 0)) for place, depth in page],
        unnamed=places_not_entered(most=NOT_ENTERED_SHOWN).items(),
    )


def _lines(there: list[Place]) -> list[tuple[Place, int]]:
    """Places, each after the one it lies in, with how deep it lies."""
    inside: dict[int | None, list[Place]] = defaultdict(list)
    for place in there:
        inside[place.within_id].append(place)
    lines: list[tuple[Place, int]] = []

    def lay_out(under: int | None, depth: int) -> None:
        for place in inside.get(under, ()):
            lines.append((place, depth))
            lay_out(place.pk, depth + 1)

    lay_out(None, 0)
    return lines


@login_required
@require_GET
def place(request: HttpRequest, tag: str) -> HttpResponse:
    """What is in a place, over all cars."""
    refuse_readers(request)
    found = _find(tag)
    parts = Part.objects.filter(place=found.name, fate="").select_related("car")
    page = Paginator(parts.order_by("car", "position"), PARTS_A_PAGE)
    shown = page.get_page(request.GET.get("page"))
    return show(
        request,
        "places/place.html",
        place=found,
        above=_above(found),
        inside=found.inside.filter(withdrawn_at=None),
        page=shown,
        outs=out_words(shown.object_list),
        pieces=pieces_in(found.name)[:PIECES_SHOWN],
        others=Place.objects.filter(withdrawn_at=None).exclude(pk=found.pk)[:PLACES_OFFERED],
    )


@login_required
@require_POST
def put(request: HttpRequest, tag: str) -> HttpResponse:
    """Put a place into another, or withdraw it."""
    refuse_readers(request)
    found = _find(tag)
    if request.POST.get("what") == "withdraw":
        withdraw_place(place=found, reason=request.POST.get("reason", ""), by=request.user)
        said = f"{found.name} is used no longer."
        offer_workshop_undo(request, said, kind="place", pk=found.pk)
        return redirect("places")
    within = Place.objects.filter(tag=request.POST.get("within", "")).first()
    move_place(place=found, within=within, by=request.user)
    said = f"{found.name} is now in {within.name if within else 'no other'}."
    entry = latest_entry(None, "move place", by=request.user)
    offer_workshop_undo(request, said, kind="place-move", pk=entry)
    return redirect("place", tag)


@login_required
@require_GET
def open_tag(request: HttpRequest, tag: str) -> HttpResponse:
    """Page of the part or place that carries a tag: what a phone opens from a label."""
    plain = plain_tag(tag)
    part = part_with_tag(plain)
    if part is not None and cars_for(request.user).filter(pk=part.car_id).exists():
        return redirect("part", part.car.slug, part.part)
    place = place_with_tag(plain)
    if place is not None and may_write(request):
        return redirect("place", place.tag)
    piece = piece_with_tag(plain)
    if piece is not None and may_write(request):
        return redirect("salvage-piece", piece.number)
    return show(request, "places/no_tag.html", status=404, tag=plain)


def _find(tag: str) -> Place:
    found = place_with_tag(plain_tag(tag))
    if found is None:
        raise Http404(tag)
    return found


def _above(place: Place) -> list[Place]:
    found: list[Place] = []
    above = place.within
    while above is not None:
        found.insert(0, above)
        above = above.within
    return found
