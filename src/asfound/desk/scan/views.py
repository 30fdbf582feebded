"""Scan parts, then the place they go into; count a place; print labels."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.base import InputError
from asfound.desk.access import refuse_readers, show
from asfound.desk.scan.undoing import last_move, moves_since, offer_scan_undo
from asfound.record.actions import close_count, count_place, move_parts_together, plain_tag
from asfound.record.actions.salvage import move_piece
from asfound.record.models import Part, Place, SalvageRow
from asfound.record.reads.register import part_with_tag, place_with_tag
from asfound.record.reads.salvage import piece_with_tag

_A_SCAN = 500
"""More tags than anyone scans before putting the phone down."""

_TAG_SHOWN = 60
"""A code of something else may hold thousands of signs."""
_TYPED = {"autocomplete": "off", "autocapitalize": "characters"}


class TagsForm(forms.Form):
    """Tags as a scanner types them: one a line."""

    tags = forms.CharField(
        label="tags seen",
        widget=forms.Textarea(
            attrs={"rows": 4, "autocomplete": "off", "autocapitalize": "characters"}
        ),
        help_text="one a line; a hand scanner types them, a camera fills them in",
    )
    place = forms.CharField(
        label="tag of the place they go into",
        required=False,
        widget=forms.TextInput(attrs=_TYPED),
    )
    key = forms.CharField(required=False, max_length=64, widget=forms.HiddenInput)

    def lines(self) -> list[str]:
        """Tags, each once, in the order seen."""
        lines = (plain_tag(line) for line in self.cleaned_data["tags"].splitlines())
        return list(dict.fromkeys(line for line in lines if line))[:_A_SCAN]


@login_required
@require_http_methods(["GET", "POST"])
def scan(request: HttpRequest) -> HttpResponse:
    """Page with the camera; posted, the parts go into the place."""
    refuse_readers(request)
    form = TagsForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        _put(request, form)
        return redirect("scan")
    return show(request, "scan/scan.html", status=422 if form.errors else 200, form=form)


def _put(request: HttpRequest, form: TagsForm) -> None:
    """Parts by car into the place; a place among the tags is where they go."""
    tags = form.lines()
    places = [p for p in map(place_with_tag, [plain_tag(form.cleaned_data["place"]), *tags]) if p]
    if len({place.pk for place in places}) != 1:
        raise InputError(
            field="place",
            got=", ".join(place.name for place in places) or "none",
            allowed="the tag of one place",
            remedy="Scan the parts, then the place they go into.",
        )
    parts, rows, unknown = list[Part](), list[SalvageRow](), list[str]()
    for tag in tags:
        part = part_with_tag(tag)
        row = _row_with_tag(tag)
        if part is not None:
            parts.append(part)
        elif row is not None:
            rows.append(row)
        elif place_with_tag(tag) is None:
            unknown.append(tag)
    if unknown or not (parts or rows):
        raise InputError(
            field="tags",
            got=", ".join(unknown) or "no part",
            allowed="tags of parts of this record",
            remedy="Nothing was moved. Take the unknown tag out and keep the rest.",
        )
    _move(request, parts, rows, to_place=places[0].name, key=form.cleaned_data["key"])


def _move(
    request: HttpRequest, parts: list[Part], rows: list[SalvageRow], *, to_place: str, key: str
) -> None:
    """Move all or none, and tell it with an undo."""
    by, before = request.user, last_move()
    with transaction.atomic():
        if parts:
            move_parts_together(parts=parts, to_place=to_place, key=key, by=by)
        pieces = [
            move_piece(row=row, place=to_place, by=by).pk for row in rows if row.place != to_place
        ]
    moves = moves_since(before, parts, by)
    moved = len(moves) + len(pieces)
    told = f"{moved} part{'' if moved == 1 else 's'} now in {to_place}."
    if moved:
        offer_scan_undo(request, told, moves=moves, rows=pieces)
    else:
        messages.success(request, told)


def _row_with_tag(tag: str) -> SalvageRow | None:
    """Piece of the stock that carries the tag, as it is described now."""
    piece = piece_with_tag(tag)
    if piece is None:
        return None
    current: SalvageRow | None = SalvageRow.objects.current().filter(piece=piece).first()
    return current


@login_required
@require_GET
def what_is(request: HttpRequest) -> JsonResponse:
    """What carries a tag, for the scanning page."""
    refuse_readers(request)
    tag = plain_tag(request.GET.get("tag", ""))
    part, place = part_with_tag(tag), place_with_tag(tag)
    if part is not None:
        told = {
            "kind": "part",
            "name": str(part),
            "place": part.place,
            "car": str(part.car),
            "url": reverse("part", args=(part.car.slug, part.part)),
        }
    elif place is not None:
        told = {"kind": "place", "name": place.name, "url": reverse("place", args=(place.tag,))}
    elif (row := _row_with_tag(tag)) is not None:
        told = {
            "kind": "part",
            "name": str(row),
            "place": row.place,
            "car": "salvage stock",
            "url": reverse("salvage-piece", args=(row.piece.number,)),
        }
    else:
        told = {"kind": "", "name": ""}
    return JsonResponse({"tag": tag if told["kind"] else tag[:_TAG_SHOWN], **told})


@login_required
@require_http_methods(["GET", "POST"])
def count(request: HttpRequest, tag: str) -> HttpResponse:
    """Stock-take of one place: scan what lies there, see what is missing and what has strayed."""
    refuse_readers(request)
    place = get_object_or_404(Place, tag=plain_tag(tag), withdrawn_at=None)
    form = TagsForm(request.POST or None)
    found = None
    if request.method == "POST" and form.is_valid():
        found = count_place(place=place, tags=form.lines())
    return show(request, "scan/count.html", place=place, form=form, found=found)


@login_required
@require_POST
def close(request: HttpRequest, tag: str) -> HttpResponse:
    """Write a stock-take."""
    refuse_readers(request)
    place = get_object_or_404(Place, tag=plain_tag(tag), withdrawn_at=None)
    form = TagsForm(request.POST)
    if not form.is_valid():
        messages.warning(request, "Scan what lies there first; nothing was written.")
        return redirect("count-place", place.tag)
    found = close_count(
        place=place,
        tags=form.lines(),
        bring_strays="strays" in request.POST,
        mark_missing="missing" in request.POST,
        by=request.user,
    )
    messages.success(
        request,
        f"{place.name} is counted: {len(found.there) + len(found.pieces_there)} there, "
        f"{len(found.strays) + len(found.pieces_strayed)} strayed in, "
        f"{len(found.missing) + len(found.pieces_missing)} missing.",
    )
    return redirect("place", place.tag)
