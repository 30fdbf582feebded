"""One errand: what was agreed, its papers, and how it ends."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.base import InputError
from asfound.craft.cautions import DEFER
from asfound.desk.access import may_write, open_car, open_car_to_write, show
from asfound.desk.errands.forms import BackForm, CorrectForm, PaperForm, WithdrawForm
from asfound.desk.errands.lines import errand_line
from asfound.desk.errands.sending import cautions_of, keep_with, paper_of
from asfound.desk.undo import offer_undo
from asfound.record.actions import (
    bring_back,
    correct_observation,
    withdraw_errand,
)
from asfound.record.actions.errand import check_order, papers_of
from asfound.record.convert.errands import day_words
from asfound.record.convert.stored import folder_of
from asfound.record.faults import Fault
from asfound.record.models import Car, Observation, Part
from asfound.record.reads.errands import latest_of, names_met
from asfound.record.reads.register import names_of_places


@login_required
@require_GET
def errand(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of an errand; an address from before a correction leads to what counts now."""
    car = open_car(request, slug)
    found, part = _find(car, pk)
    if found.pk != pk:
        return redirect("errand", slug, found.pk)
    return _page(request, car, found, part)


@login_required
@require_POST
def back(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """The part is back: where it lies, when it came, what it cost."""
    car = open_car_to_write(request, slug)
    found, part = _find(car, pk)
    form = BackForm(request.POST, request.FILES, folder=folder_of(car), fixed=dict(found.cells))
    paper = paper_of(form, "paper") if form.is_valid() else None
    if isinstance(paper, Fault):
        form.add_error("paper", f"{paper.rule}. {paper.remedy} Nothing was written.")
    if form.errors or isinstance(paper, Fault):
        return _page(request, car, found, part, back_form=form)
    data = form.cleaned_data
    told = {name: data["cells"].get(name, "") for name in ("back_on", "cost")}
    try:
        with transaction.atomic():
            new = bring_back(errand=found, place=data["place"], cells=told, by=request.user)
            if paper is not None:
                keep_with(new, paper, request.user)
    except InputError as error:
        if error.field not in form.fields:
            raise
        form.add_error(error.field, f"{error.got}; must be {error.allowed}. {error.remedy}")
        return _page(request, car, found, part, back_form=form)
    messages.success(request, f"{part} is back from {found.cells['to']}, in {data['place']}.")
    return redirect("part", slug, part.part)


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Form that tells an errand rightly; what it said before is kept."""
    car = open_car_to_write(request, slug)
    found, part = _find(car, pk)
    form = CorrectForm(
        request.POST or None,
        folder=folder_of(car),
        fixed=dict(found.cells),
        initial=dict(found.cells),
    )
    if request.method == "POST" and form.is_valid() and _correct(form, found, request.user):
        messages.success(request, "The errand is corrected; what it said before is kept.")
        return redirect("errand", slug, latest_of(found).pk)
    return show(
        request,
        "errands/correct.html",
        status=422 if form.errors else 200,
        car=car,
        room="parts",
        part=part,
        line=errand_line(found, part),
        form=form,
        withdraw=WithdrawForm(auto_id="withdraw_%s", initial={"place": _from_place(part)}),
        places=names_of_places(car),
        firms=names_met(request.user, "to"),
        works=names_met(request.user, "work"),
    )


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """The errand counts no longer; it is kept with the reason."""
    car = open_car_to_write(request, slug)
    found, part = _find(car, pk)
    form = WithdrawForm(request.POST)
    if not form.is_valid():
        messages.warning(request, "Say why; nothing was changed.")
        return redirect("correct-errand", slug, found.pk)
    withdraw_errand(errand=found, by=request.user, **form.cleaned_data)
    said = f"The errand of {part} is withdrawn; it is kept with the reason."
    offer_undo(request, said, car=car, kind="observation", pk=found.pk)
    return redirect("part", slug, part.part)


@login_required
@require_POST
def add_paper(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """One more paper is kept with the errand."""
    car = open_car_to_write(request, slug)
    found, part = _find(car, pk)
    form = PaperForm(request.POST, request.FILES)
    paper = paper_of(form, "paper") if form.is_valid() else None
    if isinstance(paper, Fault):
        form.add_error("paper", f"{paper.rule}. {paper.remedy}")
    if form.errors or paper is None or isinstance(paper, Fault):
        return _page(request, car, found, part, paper_form=form)
    new = keep_with(found, paper, request.user)
    messages.success(request, "The paper is kept.")
    return redirect("errand", slug, new.pk)


def _find(car: Car, pk: int) -> tuple[Observation, Part]:
    """Errand of the car as it counts now, and its part."""
    first = car.observations.filter(pk=pk, table="errands").first()
    found = None if first is None else latest_of(first)
    if found is None or found.withdrawn_at is not None:
        raise Http404(str(pk))
    return found, car.parts.get(part=found.subject)


def _page(
    request: HttpRequest, car: Car, found: Observation, part: Part, **forms: Any
) -> HttpResponse:
    line = errand_line(found, part)
    back_form = forms.get("back_form") or BackForm(
        folder=folder_of(car), fixed=dict(found.cells), initial={"place": _from_place(part)}
    )
    return show(
        request,
        "errands/errand.html",
        status=422 if forms else 200,
        car=car,
        room="parts",
        part=part,
        line=line,
        cells=found.cells,
        back_words=day_words(found.cells.get("back_on", "")),
        papers=_papers(found) if may_write(request) else (),
        back_form=back_form,
        paper_form=forms.get("paper_form") or PaperForm(auto_id="paper_%s"),
        places=names_of_places(car) if may_write(request) else (),
        cautions=cautions_of([part], found.cells.get("work", "")),
        defer=DEFER,
        history=_history(found),
    )


def _correct(form: CorrectForm, found: Observation, by: Any) -> bool:
    data = form.cleaned_data
    try:
        check_order(data["cells"])
        correct_observation(observation=found, cells=data["cells"], reason=data["reason"], by=by)
    except InputError as error:
        field = error.field if error.field in form.fields else None
        form.add_error(field, f"{error.got}; must be {error.allowed}. {error.remedy}")
        return False
    return True


def _from_place(part: Part) -> str:
    """Where the part lay before it went out, as its moves tell."""
    moves = part.car.observations.current().filter(table="moves", subject=part.part)
    for move in moves.order_by("-position", "-pk")[:20]:
        if move.cells.get("to_place") == part.place:
            return str(move.cells.get("from_place", ""))
    return ""


def _papers(found: Observation) -> list[tuple[str, str]]:
    """Name in the address and words of each paper."""
    names = [path.rpartition("/")[2] for path in papers_of(found)]
    return [
        (name, f"paper {number}, {name.rpartition('.')[2].upper()}")
        for number, name in enumerate(names, start=1)
    ]


def _history(found: Observation) -> list[Observation]:
    """What the errand said before, the latest first."""
    before: list[Observation] = []
    older = Observation.objects.filter(superseded_by=found).first()
    while older is not None and len(before) < 50:
        before.append(older)
        older = Observation.objects.filter(superseded_by=older).first()
    return before
