"""What a script that sends from the device's own store is answered."""

from __future__ import annotations

from datetime import datetime, timedelta

from django import forms
from django.http import HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect
from django.utils import timezone

_MOST_WAIT = timedelta(days=30)


def is_for_script(request: HttpRequest) -> bool:
    """Whether a script sent the form and reads the answer."""
    return request.method == "POST" and "application/json" in request.headers.get("Accept", "")


def kept_answer(request: HttpRequest, following: str) -> HttpResponse:
    """It is kept: the page that comes next, or its address for the script that sent what waited."""
    return JsonResponse({"next": following}) if is_for_script(request) else redirect(following)


def refused_answer(form: forms.Form) -> JsonResponse:
    """It is not kept; every fault in words."""
    told = [str(error) for errors in form.errors.values() for error in errors]
    return JsonResponse({"faults": told}, status=422)


def pressed_at(request: HttpRequest) -> datetime:
    """When it was pressed on a device that had no network then; now where it did not wait.

    The device tells how long it waited and not the time, so that a clock that goes wrong there does
    no harm.
    """
    waited = request.POST.get("waited_s", "")
    wait = timedelta(seconds=int(waited)) if waited.isdecimal() and len(waited) < 9 else timedelta()
    return timezone.now() - min(wait, _MOST_WAIT)
