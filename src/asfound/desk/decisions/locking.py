"""Locking an option with a reason, and releasing it."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from asfound.base import InputError
from asfound.desk.access import open_car_to_write
from asfound.desk.decisions.forms import LockForm
from asfound.desk.decisions.piece import find_piece, show_piece
from asfound.desk.decisions.remembered import set_totals_aside
from asfound.desk.undo import offer_undo
from asfound.record.actions import lock_option, release_lock
from asfound.record.convert.stored import folder_of


@login_required
@require_POST
def lock(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """A person fixes one option of a piece, with the reason."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    found = find_piece(folder, subject)
    form = LockForm(request.POST, options=found.open_options)
    if not form.is_valid():
        return show_piece(request, car, folder, found, form, status=422)
    try:
        lock_option(car=car, subject=subject, by=request.user, **form.cleaned_data)
    except InputError as error:
        form.add_error(None, str(error))
        return show_piece(request, car, folder, found, form, status=422)
    set_totals_aside(request, car)
    messages.success(request, f"{subject} is locked to {form.cleaned_data['option']}.")
    return redirect("decisions", slug)


@login_required
@require_POST
def release(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """A person gives a piece back to the choice, with the reason."""
    car = open_car_to_write(request, slug)
    folder = folder_of(car)
    found = find_piece(folder, subject)
    reason = request.POST.get("reason", "").strip()
    if not reason:
        messages.warning(request, "Say why it is released; nothing was changed.")
    elif found.subject.locked_option:
        try:
            released = release_lock(car=car, subject=subject, reason=reason, by=request.user)
        except InputError as error:
            messages.warning(request, str(error))
            return redirect("piece", slug, subject)
        set_totals_aside(request, car)
        told = f"{subject} is released; the choice decides."
        offer_undo(request, told, car=car, kind="lock", pk=released.pk)
        return redirect("decisions", slug)
    return redirect("piece", slug, subject)
