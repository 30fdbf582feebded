"""Correcting or withdrawing an observation: the old one stays, with the reason."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from asfound.desk.access import open_car_to_write, show
from asfound.desk.observed.forms import RowForm
from asfound.desk.observed.lines import Told, observed_line
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
    told: Told,
    page: str,
    for_example: str,
    room: str = "survey",
    thing: str = "reading",
) -> HttpResponse:
    """Page of one observation with its two forms.

    Parameters
    ----------
    request : HttpRequest
    slug : str
    pk : int
    form_of : type of RowForm
        Its table is the observation's.
    told : callable
        Cells to words.
    page : str
        Name of the address of the subject's page, to go back to.
    for_example : str
        When such a reading should be withdrawn.
    room : str
        The room of the car that the page belongs to.
    thing : str
        What a row is called.
    """
    car = open_car_to_write(request, slug)
    reading = get_object_or_404(Observation, car=car, pk=pk, table=form_of.table)
    back = redirect(page, slug, reading.subject)
    if not reading.counts:
        messages.warning(
            request, f"That {thing} was corrected or withdrawn already; nothing was changed now."
        )
        return back
    step = request.POST.get("step")
    form = form_of(
        request.POST if step == "correct" else None,
        initial={c.name: reading.cells.get(c.name, "") for c in TABLES[form_of.table].columns},
        folder=folder_of(car),
        fixed=dict(reading.cells),
    )
    withdraw = WithdrawalForm(request.POST if step == "withdraw" else None, auto_id="withdraw_%s")
    if form.is_valid():
        data = form.cleaned_data
        correct_observation(
            observation=reading, cells=data["cells"], reason=data["reason"], by=request.user
        )
        messages.success(request, f"The {thing} is corrected; the old one is kept, struck through.")
        return back
    if withdraw.is_valid():
        reason = withdraw.cleaned_data["reason"]
        withdraw_observation(observation=reading, reason=reason, by=request.user)
        said = f"The {thing} is withdrawn; it is kept, struck through."
        offer_undo(request, said, car=car, kind="observation", pk=reading.pk)
        return back
    return show(
        request,
        "observed/correct.html",
        status=422 if step else 200,
        car=car,
        room=room,
        thing=thing,
        line=observed_line(reading, told),
        back=back.url,
        for_example=for_example,
        form=form,
        fields=[form[name] for name in form.fields if name not in {"key", "reason"}],
        withdraw=withdraw,
    )
