"""Saying that one would have decided otherwise, and withdrawing that."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from asfound.base import InputError
from asfound.desk.access import may_write, open_car
from asfound.desk.undo import offer_undo
from asfound.record.actions import record_dissent, withdraw_dissent
from asfound.record.actions.dissent import DISSENTS
from asfound.record.models import Observation

MOST_WORDS = 1000


@login_required
@require_POST
def dissent(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """A person would have decided otherwise, and says why."""
    car = open_car(request, slug)
    words = request.POST.get("words", "")[:MOST_WORDS]
    try:
        record_dissent(car=car, subject=subject, words=words, by=request.user)
    except InputError as error:
        messages.warning(request, str(error))
    else:
        messages.success(request, "Your dissent stands beside the lock.")
    return _back(slug, subject)


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """A person withdraws what they said, with the reason; it stays in the record."""
    car = open_car(request, slug)
    said = get_object_or_404(Observation, car=car, table=DISSENTS, pk=pk)
    try:
        withdraw_dissent(dissent=said, reason=request.POST.get("reason", ""), by=request.user)
    except InputError as error:
        messages.warning(request, str(error))
    else:
        told = "Your dissent is withdrawn; it stays in the record."
        if may_write(request):
            offer_undo(request, told, car=car, kind="observation", pk=said.pk)
        else:
            messages.success(request, told)
    return _back(slug, said.subject)


def _back(slug: str, subject: str) -> HttpResponse:
    return redirect(f"{reverse('piece', args=(slug, subject))}#dissents")
