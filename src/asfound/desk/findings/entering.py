"""Entering a finding at the car: where, what, how far, how grave, and on to the next."""

from __future__ import annotations

from itertools import zip_longest
from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.craft.conditions import ANY, EXTENTS, ON_A_PANEL, SEVERITIES, Kind, groups_for
from asfound.desk.access import open_car_to_write, show
from asfound.desk.findings.choosing import choose_subject
from asfound.desk.findings.forms import FindingForm
from asfound.desk.findings.keeping import NotTakenError, keep_finding
from asfound.desk.findings.lines import finding_lines, layer_on, lines_on, lines_on_photo
from asfound.desk.findings.subjects import About, find_about
from asfound.desk.observed.answering import is_for_script, kept_answer, refused_answer
from asfound.desk.photos.lines import photo_line
from asfound.dossier.figures import findings_svg
from asfound.record.actions import reopening_hold, signed_piece
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Observation, Photo
from asfound.record.reads.findings import findings_on_photo, kinds_offered

CHIPS = 20


@login_required
@require_http_methods(["GET", "POST"])
def add(request: HttpRequest, slug: str) -> HttpResponse:
    """Form of a finding on the part or panel of the address; without one, a choice of them."""
    car = open_car_to_write(request, slug)
    photo = _photo(car, request)
    subject = request.GET.get("subject", "") or (photo.subject if photo else "")
    about = find_about(car, subject)
    if about is None:
        return choose_subject(request, car, photo, unknown=request.GET.get("subject", ""))
    folder = folder_of(car)
    form = FindingForm(
        request.POST or None,
        request.FILES or None,
        folder=folder,
        panel=subject if about.is_drawn else "",
        initial=_initial(request, photo),
    )
    if request.method == "POST" and form.is_valid():
        try:
            kept = keep_finding(car=car, about=about, form=form, photo=photo, by=request.user)
        except NotTakenError as error:
            form.add_error("photo", str(error))
        except InputError as error:
            form.add_error("reopens", str(error))
        else:
            return _kept(request, car, about, kept)
    if is_for_script(request):
        return refused_answer(form)
    return _page(request, car, about, form, photo, folder)


def _photo(car: Car, request: HttpRequest) -> Photo | None:
    asked = request.POST.get("on_photo") or request.GET.get("photo", "")
    found: Photo | None = car.photos.current().filter(sha256=asked).first() if asked else None
    return found


def _initial(request: HttpRequest, photo: Photo | None) -> dict[str, Any]:
    place = {f"{axis}_mm": request.GET.get(axis, "")[:20] for axis in "xy"}
    return {
        **place,
        "on_photo": photo.sha256 if photo else "",
        "found_by": request.user.get_username(),
        "found_on": timezone.localdate().isoformat(),
    }


def _kept(request: HttpRequest, car: Car, about: About, kept: Observation | None) -> HttpResponse:
    """On to the next finding of the same part or panel, with what was kept told."""
    if kept is None:
        messages.info(request, "This finding was kept already.")
    else:
        (line,) = finding_lines(car, [kept])
        messages.success(request, f"Kept on {about.words}: {line.finding.told}.")
    asked = {"subject": about.subject, **({"last": kept.pk} if kept else {})}
    following = f"{reverse('add-finding', args=(car.slug,))}?{urlencode(asked)}"
    return kept_answer(request, following)


def _page(
    request: HttpRequest,
    car: Car,
    about: About,
    form: FindingForm,
    photo: Photo | None,
    folder: CarFolder,
) -> HttpResponse:
    there = lines_on(car, about.subject)
    last = next((one for one in there if str(one.pk) == request.GET.get("last", "")), None)
    return show(
        request,
        "findings/add.html",
        status=422 if form.errors else 200,
        car=car,
        room="findings",
        about=about,
        form=form,
        lines=there,
        signed_piece=signed_piece(car, about.subject),
        last=last,
        reopened=reopening_hold(car.observations.get(pk=last.pk)) if last else None,
        has_tasks=bool(last and car.heads.get("tasks")),
        figure=figure_of(folder, about, [one.numbered for one in there]),
        **photo_context(car, photo),
        **words_offered(car, about),
    )


def figure_of(folder: CarFolder, about: About, findings: Any) -> str:
    """Panel with its findings; empty for what has no outline."""
    return findings_svg(folder, about.subject, findings) if about.is_drawn else ""


def photo_context(
    car: Car, photo: Photo | None, *, but: Observation | None = None
) -> dict[str, Any]:
    """A photograph to mark a finding on, with the other findings that lie over it already."""
    if photo is None:
        return {"on_photo": None}
    over = lines_on_photo(car, [one for one in findings_on_photo(car, photo.file) if one != but])
    return {
        "on_photo": photo_line(car, photo),
        "on_photo_layer": layer_on(photo.sha256, over, file=photo.file),
    }


def words_offered(car: Car, about: About) -> dict[str, Any]:
    """Kinds, extents and severities to touch, those likeliest on this part or panel first."""
    kinds = kinds_offered(car, on_panels=about.panel is not None)
    likely = ON_A_PANEL if about.panel is not None else (*groups_for(about.words), ANY)
    chips = _in_turn([[kind for kind in kinds if kind.group == group] for group in likely])
    touched = {kind.word for kind in chips}
    return {
        "kinds": kinds,
        "chips": chips,
        "more_kinds": _by_group([kind for kind in kinds if kind.word not in touched]),
        "extents": EXTENTS,
        "severities": SEVERITIES,
    }


def _in_turn(groups: list[list[Kind]]) -> list[Kind]:
    """Kinds of several groups, one of each after the other, as many as there is room for."""
    turns = zip_longest(*groups)
    return [kind for turn in turns for kind in turn if kind is not None][:CHIPS]


def _by_group(kinds: list[Kind]) -> list[tuple[str, list[Kind]]]:
    groups: dict[str, list[Kind]] = {}
    for kind in kinds:
        groups.setdefault(kind.group or "met on this car", []).append(kind)
    return list(groups.items())
