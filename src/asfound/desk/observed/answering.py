"""What a script that sends from the device's own store is answered."""

from __future__ import annotations

from django import forms
from django.http import HttpRequest, JsonResponse


def is_for_script(request: HttpRequest) -> bool:
    """Whether a script sent the form and reads the answer."""
    return request.method == "POST" and "application/json" in request.headers.get("Accept", "")


def kept_answer(following: str) -> JsonResponse:
    """It is kept; the page that comes next."""
    return JsonResponse({"next": following})


def refused_answer(form: forms.Form) -> JsonResponse:
    """It is not kept; every fault in words."""
    told = [str(error) for errors in form.errors.values() for error in errors]
    return JsonResponse({"faults": told}, status=422)
