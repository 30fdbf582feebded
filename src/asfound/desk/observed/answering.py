"""What a script that sends from the device's own store is answered, and what it tells."""

from __future__ import annotations

from datetime import datetime, timedelta

from django import forms
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils import timezone

ENTERED_BY = "X-Entered-By"
"""Head in which a device says whose entry it sends."""
_MOST_WAIT = timedelta(days=30)
_LONGEST_NUMBER = 15
"""Digits; milliseconds since 1970 have 13."""


def is_for_script(request: HttpRequest) -> bool:
    """Whether a script sent the form and reads the answer."""
    return request.method == "POST" and "application/json" in request.headers.get("Accept", "")


def kept_answer(request: HttpRequest, following: str) -> HttpResponse:
    """It is kept: the page that comes next, or its address for the script that sent what waited."""
    return JsonResponse({"next": following}) if is_for_script(request) else redirect(following)


def refused_answer(form: forms.Form) -> JsonResponse:
    """It is not kept; every fault in words."""
    return refusal([str(error) for errors in form.errors.values() for error in errors])


def refusal(faults: list[str]) -> JsonResponse:
    """It is not kept, for these reasons."""
    return JsonResponse({"faults": faults}, status=422)


def entered_by_another(request: HttpRequest) -> HttpResponse | None:
    """Refusal of what waits for one person while another is signed in on the device."""
    whose = request.headers.get(ENTERED_BY)
    if whose is None or not request.user.is_authenticated or whose == str(request.user.pk):
        return None
    return HttpResponse(status=409, headers={ENTERED_BY: str(request.user.pk)})


def pressed_at(request: HttpRequest) -> datetime:
    """When it was pressed on a device that had no network then; now where it did not wait.

    The device tells when that was by the clock of this computer, where its page could know it.
    Else it tells how long it waited and not the time, so that a wrong clock there does no harm.
    """
    now = timezone.now()
    pressed_ms, waited_s = _number(request, "pressed_ms"), _number(request, "waited_s")
    wait_s = now.timestamp() - pressed_ms / 1000 if pressed_ms else waited_s
    return now - min(timedelta(seconds=max(wait_s, 0)), _MOST_WAIT)


def _number(request: HttpRequest, name: str) -> int:
    """Whole number that was sent; zero for anything else."""
    text = request.POST.get(name, "")
    return int(text) if text.isdecimal() and len(text) < _LONGEST_NUMBER else 0
