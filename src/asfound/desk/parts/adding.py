"""Entering a part at the bench: a photograph, a name, a place, and on to the next."""

from __future__ import annotations

from typing import Any, Literal

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_http_methods

from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.answering import is_for_script, kept_answer, refused_answer
from asfound.desk.parts.forms import QuickForm
from asfound.exchange.photographs import ReadIn, keep_read, read_in
from asfound.record.actions import add_parts
from asfound.record.faults import Fault
from asfound.record.models import Car, Part
from asfound.record.reads.register import names_of_places

NAMES_OFFERED = 400
NAMES_LOOKED_AT = 2_000
KEPT_ON_THE_FORM = ("place", "parent")
AS_MET = {"view": "whole", "stage": "before"}
"""How a part is photographed at the bench, before anyone works on it."""


@login_required
@require_http_methods(["GET", "POST"])
def quick_add(request: HttpRequest, slug: str) -> HttpResponse:
    """Form that keeps its place and assembly from one part to the next."""
    car = open_car_to_write(request, slug)
    form = QuickForm(request.POST or None, request.FILES or None, initial=_kept(request))
    if request.method == "POST" and form.is_valid() and (photo := _photo(form)) is not False:
        part = _enter(car, form.cleaned_data, photo, request.user)
        if part is not None and photo is not None:
            _tell_if_elsewhere(request, car, part, photo)
        if part is not None:
            messages.success(request, f"{part.name} is kept as {part.part}, tag {part.tag}.")
        again = {n: form.cleaned_data[n] for n in KEPT_ON_THE_FORM if form.cleaned_data[n]}
        if part is not None:
            again["last"] = part.part
        following = f"{reverse('add-part', args=(slug,))}?{urlencode(again)}"
        return kept_answer(request, following)
    if is_for_script(request):
        return refused_answer(form)
    return show(
        request,
        "register/add.html",
        status=422 if form.errors else 200,
        car=car,
        room="parts",
        form=form,
        last=car.parts.filter(part=request.GET.get("last", "")).first(),
        places=names_of_places(car),
        names=_names(car),
        assemblies=assemblies(car),
    )


def _kept(request: HttpRequest) -> dict[str, str]:
    return {name: request.GET.get(name, "") for name in KEPT_ON_THE_FORM}


def _photo(form: QuickForm) -> ReadIn | Literal[False] | None:
    """Photograph on the shelf, or none; ``False`` once the form says why it is not taken."""
    sent = form.cleaned_data["photo"]
    if sent is None:
        return None
    got = read_in(sent.name, sent.file)
    if isinstance(got, Fault):
        form.add_error("photo", f"{got.file}: {got.rule}. {got.remedy} Nothing was written.")
        return False
    return got


def _enter(car: Car, typed: dict[str, Any], photo: ReadIn | None, by: Any) -> Part | None:
    """The part with its photograph, both or none; what was sent twice is there once."""
    row = {name: typed[name].strip() for name in ("name", "place", "parent")}
    with transaction.atomic():
        made = add_parts(car=car, rows=[row], by=by, key=typed["key"])
        if made and photo is not None:
            keep_read(photo, car=car, subject=made[0].part, by=by, **AS_MET)
    return made[0] if made else None


def _tell_if_elsewhere(request: HttpRequest, car: Car, part: Part, photo: ReadIn) -> None:
    there = car.photos.current().filter(sha256=photo.sha256).exclude(subject=part.part).first()
    if there is not None:
        messages.warning(
            request,
            f"The record had this photograph already, and it stays with {there.subject}; "
            f"{part.name} has none of it.",
        )


def _names(car: Car) -> list[str]:
    """Names of this car's parts, then those entered last, so that one thing is called one way."""
    here = car.parts.order_by().values_list("name", flat=True).distinct()[:NAMES_OFFERED]
    lately = Part.objects.order_by("-pk").values_list("name", flat=True)[:NAMES_LOOKED_AT]
    return list(dict.fromkeys([*here, *lately]))[:NAMES_OFFERED]


def assemblies(car: Car) -> list[tuple[str, str]]:
    """Number and name of parts that others belong to or that are called assemblies."""
    parents = car.parts.exclude(parent="").order_by().values("parent").distinct()
    found = car.parts.filter(fate="", part__in=parents) | car.parts.filter(fate="", kind="assembly")
    return list(found.values_list("part", "name")[:500])
