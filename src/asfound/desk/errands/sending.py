"""Sending parts out: from a part's page, or several at once."""

from __future__ import annotations

import uuid
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.craft.cautions import DEFER, Caution, cautions_for
from asfound.desk.access import open_car_to_write, show
from asfound.desk.errands.forms import SendForm
from asfound.desk.errands.named import find_parts, names_in
from asfound.exchange.papers import Paper, read_paper
from asfound.record.actions import keep_paper, send_out
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault
from asfound.record.models import Car, Observation, Part
from asfound.record.reads.errands import names_met


@login_required
@require_http_methods(["GET", "POST"])
def send(request: HttpRequest, slug: str) -> HttpResponse:
    """Form with the cautions that the parts call for; posted, they are on their way."""
    car = open_car_to_write(request, slug)
    asked = request.POST.get("parts") or request.GET.get("parts", "")
    parts = find_parts(car, names_in(asked))
    form = SendForm(
        request.POST or None,
        request.FILES or None,
        car=car,
        folder=folder_of(car),
        fixed={},
        initial={"parts": asked, "key": uuid.uuid4().hex},
    )
    if request.method == "POST" and form.is_valid():
        answer = _send(request, car, form)
        if answer is not None:
            return answer
    work = request.POST.get("work", "")
    return show(
        request,
        "errands/send.html",
        status=422 if form.errors else 200,
        car=car,
        room="parts",
        form=form,
        parts=parts,
        cautions=cautions_of(parts, work) if parts else (),
        defer=DEFER,
        firms=names_met(request.user, "to"),
        works=names_met(request.user, "work"),
    )


def _send(request: HttpRequest, car: Car, form: SendForm) -> HttpResponse | None:
    """Answer once the parts are sent; ``None`` where the form says why they are not."""
    parts = form.cleaned_data["parts"]
    paper = paper_of(form, "paper")
    if isinstance(paper, Fault):
        form.add_error("paper", f"{paper.rule}. {paper.remedy} Nothing was sent.")
        return None
    try:
        made = send_out(
            parts=parts,
            cells=form.cleaned_data["cells"],
            by=request.user,
            key=form.cleaned_data["key"],
        )
    except InputError as error:
        field = error.field if error.field in form.fields else None
        form.add_error(field, f"{error.got}; must be {error.allowed}. {error.remedy}")
        return None
    if paper is not None:
        for errand in made:
            keep_with(errand, paper, request.user)
    _say(request, form.cleaned_data["cells"], parts, sent_now=bool(made))
    if len(parts) == 1:
        return redirect("part", car.slug, parts[0].part)
    return redirect("errands", car.slug)


def keep_with(errand: Observation, paper: Paper, by: Any) -> Observation:
    """Errand that has the paper."""
    return keep_paper(
        errand=errand, sha256=paper.sha256, size=paper.size, suffix=paper.suffix, by=by
    )


def _say(request: HttpRequest, cells: dict[str, str], parts: list[Part], *, sent_now: bool) -> None:
    what = str(parts[0]) if len(parts) == 1 else f"{len(parts)} parts"
    verb = "is" if len(parts) == 1 else "are"
    if sent_now:
        messages.success(request, f"{what} {verb} out at {cells['to']}.")
    else:
        messages.info(request, f"{what} {verb} out at {cells['to']} already.")


def cautions_of(parts: list[Part], work: str) -> tuple[Caution, ...]:
    """Cautions that the work and what is known of the parts call for; general ones left out."""
    words = [work, *(f"{part.name} {part.section} {part.note}" for part in parts)]
    return tuple(caution for caution in cautions_for(words) if caution.called_by)


def paper_of(form: Any, field: str) -> Paper | Fault | None:
    """Paper that came with a form, on the shelf; why it is not taken; or none."""
    sent = form.cleaned_data.get(field)
    if sent is None:
        return None
    return read_paper(sent.name, sent.file, size=sent.size or 0)
