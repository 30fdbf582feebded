"""Correcting or withdrawing an observation: the old one stays, with the reason."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse

from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.forms import RowForm
from asfound.desk.survey.forms import WithdrawalForm
from asfound.desk.undo import offer_undo
from asfound.record.actions import correct_observation, withdraw_observation
from asfound.record.convert.stored import folder_of
from asfound.record.models import Observation
from asfound.record.tables import TABLES


def correct_row(
    request: HttpRequest,
    slug: str,
    pk: int,
    *,
    form_of: type[RowForm],
    line_of: Callable[[Observation], object],
    page: str,
    for_example: str,
    room: str = "survey",
    thing: str = "reading",
    by_subject: bool = True,
    template: str = "observed/correct.html",
    then: Callable[[Observation], str] | None = None,
) -> HttpResponse:
    """Page of one observation with its two forms.

    Parameters
    ----------
    request : HttpRequest
    slug : str
    pk : int
    form_of : type of RowForm
        Its table is the observation's.
    line_of : callable
        The observation as the page tells it: at least its ``subject`` and what it ``told``.
    page : str
        Name of the address to go back to.
    for_example : str
        When such a reading should be withdrawn.
    room : str
        The room of the car that the page belongs to.
    thing : str
        What a row is called.
    by_subject : bool
        Whether the page to go back to is of the subject alone.
    template : str
        The page, for a form that is not a plain row of fields.
    then : callable or None
        Row that counts now, or was withdrawn, to the address to go to; else it is ``page``.
    """
    car = open_car_to_write(request, slug)
    reading = get_object_or_404(Observation, car=car, pk=pk, table=form_of.table)
    back = reverse(page, args=(slug, reading.subject) if by_subject else (slug,))
    if not reading.counts:
        messages.warning(
            request, f"That {thing} was corrected or withdrawn already; nothing was changed now."
        )
        return redirect(back)
    step = request.POST.get("step")
    form = form_of(
        request.POST if step == "correct" else None,
        initial={c.name: reading.cells.get(c.name, "") for c in TABLES[form_of.table].columns},
        folder=folder_of(car),
        fixed=dict(reading.cells),
    )
    withdraw = WithdrawalForm(request.POST if step == "withdraw" else None, auto_id="withdraw_%s")
    done = None
    if form.is_valid():
        done = _corrected(request, reading, form.cleaned_data, thing)
    elif withdraw.is_valid():
        done = _withdrawn(request, reading, withdraw.cleaned_data["reason"], thing)
    if done is not None:
        return redirect(then(done) if then else back)
    return show(
        request,
        template,
        status=422 if step else 200,
        car=car,
        room=room,
        thing=thing,
        line=line_of(reading),
        back=back,
        for_example=for_example,
        form=form,
        fields=[form[name] for name in form.fields if name not in {"key", "reason"}],
        withdraw=withdraw,
    )


def _corrected(
    request: HttpRequest, reading: Observation, data: Mapping[str, Any], thing: str
) -> Observation:
    new = correct_observation(
        observation=reading, cells=data["cells"], reason=data["reason"], by=request.user
    )
    messages.success(request, f"The {thing} is corrected; the old one is kept, struck through.")
    return new


def _withdrawn(request: HttpRequest, reading: Observation, reason: str, thing: str) -> Observation:
    withdraw_observation(observation=reading, reason=reason, by=request.user)
    said = f"The {thing} is withdrawn; it is kept, struck through."
    offer_undo(request, said, car=reading.car, kind="observation", pk=reading.pk)
    return reading
