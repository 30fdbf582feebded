"""A part's page: what it is, where it is, what happened to it, what may be done."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.desk.access import may_write, open_car, open_car_to_write, show
from asfound.desk.errands.lines import out_words
from asfound.desk.findings.lines import lines_on
from asfound.desk.parts.adding import assemblies
from asfound.desk.parts.forms import FateForm, MoveForm, PartForm
from asfound.desk.photos.beside import photos_beside
from asfound.desk.undo import offer_undo
from asfound.record.actions import (
    change_part,
    move_parts,
    replace_part,
    split_part,
    withdraw_part,
)
from asfound.record.convert.stored_cells import cell_of
from asfound.record.models import Car, Part
from asfound.record.reads import cars_for
from asfound.record.reads.errands import open_errands
from asfound.record.reads.joints import fixings_of, joint_sides, joints_offered
from asfound.record.reads.lent import lent_by
from asfound.record.reads.log import latest_entry
from asfound.record.reads.register import (
    assemblies_above,
    history_of,
    names_of_places,
    parts_of,
)
from asfound.record.tables import TABLES

CHILDREN_SHOWN = 200
HISTORY_SHOWN = 100
STATES = (
    "original and in place",
    "period",
    "later",
    "reproduction",
    "undetermined",
    "missing",
)
"""Words for the state of a piece, as the house uses them."""


@login_required
@require_GET
def part(request: HttpRequest, slug: str, part: str) -> HttpResponse:
    """Page of one part."""
    car = open_car(request, slug)
    found = find_part(car, part)
    children = parts_of(car, within=found.part, only="all")
    return show(
        request,
        "register/part.html",
        car=car,
        room="parts",
        part=found,
        above=assemblies_above(found),
        children=children[:CHILDREN_SHOWN],
        children_n=children.count(),
        followed=_followed(car, found),
        instead_of=_instead_of(car, found),
        moves=history_of(found, "moves")[:HISTORY_SHOWN],
        findings=lines_on(car, found.part),
        errands=history_of(found, "errands")[:HISTORY_SHOWN],
        **_out(found),
        **photos_beside(car, found.part),
        fixings=fixings_of(found),
        sides=joint_sides(found),
        lent=lent_by(found),
        move=MoveForm(),
        fate=FateForm(),
        cars=cars_for(request.user).exclude(pk=car.pk) if may_write(request) else (),
        places=names_of_places(car),
    )


@login_required
@require_http_methods(["GET", "POST"])
def edit(request: HttpRequest, slug: str, part: str) -> HttpResponse:
    """Form for what is known of a part; a change by somebody else is not overwritten."""
    car = open_car_to_write(request, slug)
    found = find_part(car, part)
    now = {name: cell_of(found, name, TABLES["parts"]) for name in PartForm.base_fields}
    form = PartForm(request.POST or None, initial=now)
    if request.method == "POST" and form.is_valid():
        seen = {name: request.POST.get(f"seen.{name}", "") for name in now}
        change_part(part=found, cells=form.cells(), seen=seen, by=request.user)
        entry = latest_entry(car, "change part", by=request.user)
        offer_undo(request, f"{found} is changed.", car=car, kind="part-change", pk=entry)
        return redirect("part", slug, found.part)
    return show(
        request,
        "register/edit.html",
        status=422 if form.errors else 200,
        car=car,
        room="parts",
        part=found,
        form=form,
        seen=now,
        assemblies=assemblies(car),
        joints=joints_offered(car),
        states=STATES,
    )


@login_required
@require_POST
def move(request: HttpRequest, slug: str, part: str) -> HttpResponse:
    """Put a part into a place."""
    car = open_car_to_write(request, slug)
    found = find_part(car, part)
    form = MoveForm(request.POST)
    if form.is_valid():
        typed: dict[str, Any] = form.cleaned_data
        move_parts(parts=[found], by=request.user, **typed)
        latest = history_of(found, "moves")[0]
        said = f"{found} is now in {typed['to_place']}."
        offer_undo(request, said, car=car, kind="move", pk=latest.pk)
    else:
        messages.warning(request, "Say where it goes; nothing was changed.")
    return redirect("part", slug, found.part)


@login_required
@require_POST
def end(request: HttpRequest, slug: str, part: str) -> HttpResponse:
    """Split, replace or withdraw a part; the old entry stays."""
    car = open_car_to_write(request, slug)
    found = find_part(car, part)
    form = FateForm(request.POST)
    if not form.is_valid():
        messages.warning(request, "Say why; nothing was changed.")
        return redirect("part", slug, found.part)
    reason, names = form.cleaned_data["reason"], form.lines()
    what = request.POST.get("what")
    if what == "split":
        split_part(part=found, names=names, reason=reason, by=request.user)
    elif what == "replace":
        source = form.cleaned_data["source"]
        name = names[0] if names else found.name
        replace_part(part=found, name=name, reason=reason, source=source, by=request.user)
    else:
        withdraw_part(part=found, reason=reason, by=request.user)
    said = f"{found} stays in the register with what became of it."
    offer_undo(request, said, car=car, kind="part", pk=found.pk)
    return redirect("part", slug, found.part)


def find_part(car: Car, number: str) -> Part:
    """Part of that number, or a page that says there is none."""
    found = car.parts.filter(part=number).first()
    if found is None:
        raise Http404(number)
    return found


def _out(found: Part) -> dict[str, Any]:
    """Where the part is out and until when, if it is."""
    errand = open_errands([found]).get(found.pk)
    if errand is None:
        return {}
    return {
        "out": out_words([found])[found.pk],
        "out_errand": errand.pk,
        "out_at": errand.cells.get("to", ""),
    }


def _followed(car: Car, found: Part) -> list[Part]:
    numbers = [number for number in found.followed_by.split(";") if number]
    return list(car.parts.filter(part__in=numbers))


def _instead_of(car: Car, found: Part) -> list[Part]:
    """Parts in whose place this one stands."""
    named = car.parts.filter(followed_by__contains=found.part)
    return [part for part in named if found.part in part.followed_by.split(";")]
