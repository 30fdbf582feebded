"""One's own password and PIN."""

from __future__ import annotations

from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import person_of, show
from asfound.desk.account.tries import TooManyTriesError, address_of, begin_try, was_right
from asfound.desk.people.door import refuse_pin
from asfound.desk.people.forms import OwnPasswordForm, PinForm
from asfound.record.actions import clear_pin, set_password, set_pin
from asfound.record.models import Person


@login_required
@sensitive_post_parameters()
@require_http_methods(["GET", "POST"])
def own_account(request: HttpRequest) -> HttpResponse:
    """Change one's password, set or clear one's PIN."""
    refuse_pin(request)
    person, step = person_of(request), request.POST.get("step", "")
    password = OwnPasswordForm(request.POST if step == "password" else None)
    pin = PinForm(request.POST if step == "pin" else None)
    if person is not None and _done(request, person, step, password, pin):
        return redirect("own-account")
    status = 422 if step else 200
    return show(request, "people/own.html", status=status, password=password, pin=pin)


def _done(
    request: HttpRequest, person: Person, step: str, password: OwnPasswordForm, pin: PinForm
) -> bool:
    """Whether that step was taken; what stands against it is added to its form."""
    if step == "clear-pin":
        clear_pin(person=person, by=request.user)
        messages.success(request, "Your PIN is no longer good.")
        return True
    if password.is_valid():
        return _change_password(request, person, password)
    if pin.is_valid():
        try:
            set_pin(person=person, pin=pin.cleaned_data["pin"], by=request.user)
        except InputError as error:
            pin.add_error("pin", str(error))
            return False
        messages.success(request, "Your PIN is set; it lets you in at the workshop's tablets.")
        return True
    return False


def _change_password(request: HttpRequest, person: Person, form: OwnPasswordForm) -> bool:
    where = {"account": str(person), "address": address_of(request)}
    try:
        begin_try(**where)
    except TooManyTriesError as error:
        form.add_error("old", f"Too many wrong tries; none is taken before {error.until:%H:%M}.")
        return False
    if not person.user.check_password(form.cleaned_data["old"]):
        form.add_error("old", "That is not your password until now.")
        return False
    was_right(**where)
    try:
        set_password(person=person, password=form.cleaned_data["password"], by=request.user)
    except InputError as error:
        form.add_error("password", str(error))
        return False
    update_session_auth_hash(request, person.user)
    messages.success(request, "Your password is changed; other devices are signed out.")
    return True
