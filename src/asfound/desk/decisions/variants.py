"""Variants of the choice: kept under a name, held beside each other, one address each."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.base import AsfoundError, InputError
from asfound.choose import Problem, Subject, choose
from asfound.desk.access import open_car, open_car_to_write, refuse_readers, show
from asfound.desk.decisions.compared import NOW, Side, differing_lines, sum_lines
from asfound.desk.decisions.forms import Limit
from asfound.desk.templatetags.desk import money
from asfound.record.actions import keep_variant, withdraw_variant
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.proposal import sums_of
from asfound.record.convert.stored import folder_of
from asfound.record.derived import chosen_now
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Variant

MOST_BESIDE = 4
MOST_LISTED = 60


class VariantForm(forms.Form):
    """A name for a choice, and another limit of cost to choose it under."""

    name = forms.CharField(
        label="Name",
        max_length=80,
        error_messages={"required": "Give it a name, such as “drive it as it is”."},
    )
    note = forms.CharField(label="What it is for", max_length=400, required=False)

    def __init__(self, *args: Any, currency: str, **rest: Any) -> None:
        super().__init__(*args, **rest)
        self.fields["cost_max"] = Limit(
            f"With another limit of cost{f', {currency}' if currency else ''}"
        )
        self.fields["cost_max"].help_text = "Empty: the choice as the brief has it now."


@login_required
@require_http_methods(["GET", "POST"])
def variants(request: HttpRequest, slug: str) -> HttpResponse:
    """Variants side by side; a POST keeps one."""
    car = open_car(request, slug)
    folder = folder_of(car)
    form = VariantForm(
        request.POST or None,
        currency=car.currency,
        initial={"cost_max": request.GET.get("cost", "")},
    )
    if request.method == "POST":
        refuse_readers(request)
        made = _keep(request, car, folder, form)
        if made is not None:
            messages.success(request, f"“{made.name}” is kept.")
            return redirect("variants", slug)
    context = _compared(request, car, folder)
    return show(
        request,
        "decisions/variants.html",
        status=422 if form.errors else 200,
        car=car,
        room="decisions",
        form=form,
        **context,
    )


def _keep(request: HttpRequest, car: Car, folder: CarFolder, form: VariantForm) -> Variant | None:
    if not form.is_valid():
        return None
    try:
        brief, options = _choose_for(folder, form.cleaned_data["cost_max"])
        return keep_variant(
            car=car,
            name=form.cleaned_data["name"],
            note=form.cleaned_data["note"],
            options=options,
            sums=sums_of(folder, choice_problem(folder), options),
            brief=brief,
            by=request.user,
        )
    except InputError as error:
        form.add_error("name" if error.field == "name" else None, str(error))
    except AsfoundError as error:
        form.add_error("cost_max", str(error))
    return None


def _choose_for(
    folder: CarFolder, cost_max: float | None
) -> tuple[Mapping[str, Any] | None, Mapping[str, str]]:
    """The brief with that limit of cost, and the choice under it."""
    if cost_max is None:
        return folder.brief, chosen_now(folder).options
    problem = choice_problem(folder)
    moved = replace(problem, brief=replace(problem.brief, cost_max=cost_max))
    return {**(folder.brief or {}), "cost_max": cost_max}, choose(moved).options


def _compared(request: HttpRequest, car: Car, folder: CarFolder) -> dict[str, Any]:
    kept = list(car.variants.current().select_related("by")[:MOST_LISTED])
    picked = {int(pk) for pk in request.GET.getlist("of") if pk.isdecimal()}
    beside = [v for v in kept if not picked or v.pk in picked][-(MOST_BESIDE - 1) :]
    try:
        problem = choice_problem(folder)
    except AsfoundError as error:
        return {"kept": kept, "refusal": str(error)}
    sides = [Side(pk=v.pk, name=v.name, options=v.options, sums=v.sums) for v in beside]
    try:
        now = chosen_now(folder).options
        sums = sums_of(folder, problem, now)
        sides = [Side(pk=None, name=NOW, options=now, sums=sums), *sides]
        refusal = ""
    except AsfoundError as error:
        refusal = str(error)
    at = _cost_asked(request)
    if at is not None and not refusal:
        try:
            options = _choose_for(folder, at)[1]
        except AsfoundError as error:
            refusal = str(error)
        else:
            name = f"for at most {money(at, car.currency)}"
            sums = sums_of(folder, problem, options)
            sides.insert(1, Side(pk=None, name=name, options=options, sums=sums))
    return {
        "kept": kept,
        "shown": {side.pk for side in sides},
        "sides": sides,
        "sums": sum_lines(sides, currency=car.currency),
        "lines": differing_lines(sides, problem),
        "pieces_n": len(problem.subjects),
        "refusal": refusal,
    }


def _cost_asked(request: HttpRequest) -> float | None:
    """The limit of cost that the address asks for, such as that of a point of the front."""
    try:
        cost = float(request.GET.get("cost", ""))
    except ValueError:
        return None
    return cost if math.isfinite(cost) and cost >= 0 else None


@login_required
@require_GET
def variant(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """One variant: what it comes to and what it does with each piece."""
    car = open_car(request, slug)
    found = _of(car, pk)
    folder = folder_of(car)
    lines = _lines(found, choice_problem(folder))
    side = Side(pk=found.pk, name=found.name, options=found.options, sums=found.sums)
    return show(
        request,
        "decisions/variant.html",
        car=car,
        room="decisions",
        variant=found,
        sums=sum_lines([side], currency=car.currency),
        lines=lines,
        held=[line for line in lines if line["is_held"]],
    )


def _lines(found: Variant, problem: Problem) -> list[dict[str, Any]]:
    named = {(o.subject, o.option): o for o in problem.options}
    subjects = {s.subject: s for s in problem.subjects}
    lines = [
        {
            "subject": name,
            "zone": subjects[name].zone if name in subjects else "",
            "option": named.get((name, option)),
            "begun": subjects[name].begun if name in subjects else "",
            "is_held": name in subjects and _is_held(subjects[name], option),
        }
        for name, option in sorted(found.options.items())
    ]
    return sorted(lines, key=lambda line: line["zone"])


def _is_held(subject: Subject, option: str) -> bool:
    """Whether the piece was begun as something else than the variant has."""
    return bool(subject.begun and subject.locked_option not in ("", option))


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Take a variant out of the comparison, with the reason."""
    car = open_car_to_write(request, slug)
    found = _of(car, pk)
    try:
        withdraw_variant(variant=found, reason=request.POST.get("reason", ""), by=request.user)
    except InputError as error:
        messages.warning(request, str(error))
        return redirect("variant", slug, pk)
    messages.success(request, f"“{found.name}” is withdrawn; it stays in the record.")
    return redirect("variants", slug)


def _of(car: Car, pk: int) -> Variant:
    found = car.variants.filter(pk=pk).first()
    if found is None:
        raise Http404(pk)
    return found
