"""At a shared tablet: pick one's name, type the PIN, hand over with one tap."""

from __future__ import annotations

from django.contrib.auth import login, logout
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.http import urlencode
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.desk.access import show
from asfound.desk.account.tries import TooManyTriesError, begin_try, was_right
from asfound.desk.people.door import BY_PIN, safe_next, tablet_here
from asfound.desk.people.forms import PinForm
from asfound.record.actions import try_pin
from asfound.record.models import Person, Tablet
from asfound.record.reads.people import people_with_pin

_SESSION_S = 4 * 3600
"""After that the name is asked again: whoever holds the tablet then may be somebody else."""
NAMES_SHOWN = 100
TOO_MANY = 429


@never_cache
@require_GET
def names(request: HttpRequest) -> HttpResponse:
    """Names of the people with a PIN, at a tablet of the workshop alone."""
    tablet = tablet_here(request)
    if tablet is None:
        return redirect("sign-in")
    if request.user.is_authenticated:
        return redirect(safe_next(request, reverse("cars")))
    listed = people_with_pin()[:NAMES_SHOWN]
    wanted = safe_next(request, "")
    return show(request, "people/names.html", tablet=tablet, names=listed, next=wanted)


@never_cache
@sensitive_post_parameters("pin")
@require_http_methods(["GET", "POST"])
def enter(request: HttpRequest, pk: int) -> HttpResponse:
    """The PIN of one person; signed in when it is right."""
    tablet = tablet_here(request)
    if tablet is None:
        return redirect("sign-in")
    person = get_object_or_404(people_with_pin(), pk=pk)
    form, status = PinForm(request.POST or None), 200
    if request.method == "POST":
        status = _try(request, person, tablet, form)
        if status == 200:
            return redirect(safe_next(request, reverse("cars")))
    wanted = safe_next(request, "")
    return show(request, "people/pin.html", status=status, whose=person, form=form, next=wanted)


@require_POST
def switch(request: HttpRequest) -> HttpResponse:
    """Sign out and show the names; the next person goes on where this one was."""
    logout(request)
    query = urlencode({"next": safe_next(request, reverse("cars"))})
    return redirect(f"{reverse('tablet-names')}?{query}")


def _try(request: HttpRequest, person: Person, tablet: Tablet, form: PinForm) -> int:
    """Status of the answer: 200 when the person is signed in."""
    if not form.is_valid():
        return 422
    where = {"account": f"pin {person.pk}", "address": f"tablet {tablet.pk}"}
    try:
        begin_try(**where)
    except TooManyTriesError as error:
        until = timezone.localtime(error.until)
        form.add_error("pin", f"Too many wrong tries. No PIN is looked at before {until:%H:%M}.")
        return TOO_MANY
    if not try_pin(person=person, pin=form.cleaned_data["pin"], tablet=tablet):
        form.add_error("pin", "That is not the PIN of this person.")
        return 422
    was_right(**where)
    login(request, person.user)
    request.session[BY_PIN] = tablet.pk
    request.session.set_expiry(_SESSION_S)
    return 200
