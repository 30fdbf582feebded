"""The page behind an invitation's link."""

from __future__ import annotations

from django.contrib.auth import login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import show
from asfound.desk.people.forms import AcceptForm
from asfound.record.actions import accept_invitation
from asfound.record.invitation_link import invitation_of

GONE = 410


@never_cache
@sensitive_post_parameters("password", "again")
@require_http_methods(["GET", "POST"])
def accept(request: HttpRequest, token: str) -> HttpResponse:
    """Choose a name and a password; the account is made and signed in."""
    try:
        invitation = invitation_of(token)
    except InputError:
        return show(request, "people/no_invitation.html", status=GONE)
    if request.user.is_authenticated:
        return show(request, "people/signed_in_already.html", invitation=invitation)
    form = AcceptForm(request.POST or None)
    if form.is_valid():
        try:
            person = accept_invitation(
                invitation=invitation,
                username=form.cleaned_data["username"].strip(),
                password=form.cleaned_data["password"],
            )
        except InputError as error:
            form.add_error(error.field if error.field in form.fields else None, str(error))
        else:
            login(request, person.user)
            return redirect("cars")
    status = 422 if form.errors else 200
    return show(request, "people/accept.html", status=status, form=form, invitation=invitation)
