"""Moving the limits of the brief."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.choose import PRESETS, Preset
from asfound.desk.access import open_car_to_write, show
from asfound.desk.decisions.both_briefs import compare
from asfound.desk.decisions.brief_form import BriefForm, initial_of_brief
from asfound.desk.decisions.brief_grounds import BriefGrounds, filled, preset_limits, vital_floors
from asfound.desk.decisions.remembered import set_totals_aside
from asfound.record.actions import NO_BRIEF, set_brief
from asfound.record.convert.stored import folder_of
from asfound.record.faults import ChangedMeanwhileError
from asfound.record.folder import CarFolder
from asfound.record.models import Brief, Car


@login_required
@require_http_methods(["GET", "POST"])
def edit_brief(request: HttpRequest, slug: str) -> HttpResponse:
    """Form of the brief; each change is kept beside those before it."""
    car = open_car_to_write(request, slug)
    now = car.briefs.select_related("by").last()
    before = _seen(car, request.POST.get("seen", "")) if request.method == "POST" else now
    folder = folder_of(car)
    grounds = BriefGrounds.of(folder, (_content(now), _content(before)))
    if request.method == "GET" and (preset := PRESETS.get(request.GET.get("preset", ""))):
        return _preset(request, car, folder, grounds, preset, now)
    initial = initial_of_brief(_content(now), zones=grounds.zones)
    form = _form(grounds, car, data=request.POST or None, initial=initial)
    if form.is_valid():
        try:
            content = form.content(_content(now))
            set_brief(car=car, content=content, by=request.user, seen=_key(before))
        except ChangedMeanwhileError:
            return _both(request, car, before, form, grounds)
        set_totals_aside(request, car)
        messages.success(request, "The brief is kept; the choice below follows it.")
        back = request.GET.get("back", "")
        if back.isdecimal():  # the finding that asked for it
            return redirect("reopened", slug, int(back))
        return redirect("decisions", slug)
    status = 422 if form.errors else 200
    return _page(request, car, form, seen=_key(before), status=status)


def _preset(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    grounds: BriefGrounds,
    preset: Preset,
    now: Brief | None,
) -> HttpResponse:
    """What a preset would fill in, beside what stands; asked for, the form filled with it."""
    limits = preset_limits(preset, folder, grounds.zones)
    stands = initial_of_brief(_content(now), zones=grounds.zones)
    content = filled(_content(now), limits, grounds.zones)
    fills = initial_of_brief(content, zones=grounds.zones)
    is_filled = "fill" in request.GET
    form = _form(grounds, car, initial=fills if is_filled else stands)
    told = compare(form, before=stands, theirs=stands, mine=fills)
    kept = [zone for zone in vital_floors(folder) if zone in limits.min_grade]
    more = {
        "preset": preset,
        "kept": kept,
        "limits": limits,
        "changes": told,
        "is_filled": is_filled,
    }
    return _page(request, car, form, seen=_key(now), status=200, **more)


def _both(
    request: HttpRequest, car: Car, before: Brief | None, mine: BriefForm, grounds: BriefGrounds
) -> HttpResponse:
    """Refusal with both versions, and a form in which they are joined."""
    now = car.briefs.select_related("by").last()
    zones = grounds.zones
    typed = initial_of_brief(mine.content({}), zones=zones)
    told = compare(
        mine,
        before=initial_of_brief(_content(before), zones=zones),
        theirs=initial_of_brief(_content(now), zones=zones),
        mine=typed,
    )
    joined = {**typed, **{name: line.joined for name, line in told.items()}}
    form = _form(grounds, car, initial=joined)
    return _page(request, car, form, seen=_key(now), status=409, told=told, now=now, mine=typed)


def _page(
    request: HttpRequest, car: Car, form: BriefForm, *, seen: int, status: int, **context: Any
) -> HttpResponse:
    return show(
        request,
        "decisions/brief.html",
        status=status,
        car=car,
        room="decisions",
        form=form,
        seen=seen,
        presets=PRESETS.values(),
        **context,
    )


def _form(grounds: BriefGrounds, car: Car, **given: Any) -> BriefForm:
    return BriefForm(
        trades=grounds.trades,
        zones=grounds.zones,
        treatments=grounds.treatments,
        known=grounds.known,
        currency=car.currency,
        **given,
    )


def _seen(car: Car, key: str) -> Brief | None:
    """The brief that the sender had before them."""
    return car.briefs.filter(pk=int(key)).first() if key.isdecimal() and len(key) < 19 else None


def _key(brief: Brief | None) -> int:
    return NO_BRIEF if brief is None else brief.pk


def _content(brief: Brief | None) -> dict[str, Any]:
    return dict(brief.content or {}) if brief else {}
