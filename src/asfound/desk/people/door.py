"""Who may keep people: the head, signed in with a password; and what a tablet holds."""

from __future__ import annotations

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest
from django.utils.http import url_has_allowed_host_and_scheme

from asfound.desk.access import person_of
from asfound.record.models import Tablet
from asfound.record.reads.people import tablet_of_key

TABLET_COOKIE = "asfound-tablet"
BY_PIN = "tablet"
"""Key of a session that began with a PIN at a shared tablet."""


def refuse_all_but_head(request: HttpRequest) -> None:
    """Refusal for everybody but the head who typed a password: a PIN is too short for this."""
    person = person_of(request)
    if person is None or not person.is_head:
        raise PermissionDenied("The head of the workshop keeps people and what owners see.")
    refuse_pin(request)


def refuse_pin(request: HttpRequest) -> None:
    """Refusal for a session that began with a PIN."""
    if BY_PIN in request.session:
        raise PermissionDenied("This takes your password: a PIN at a shared tablet is not enough.")


def tablet_here(request: HttpRequest) -> Tablet | None:
    """Tablet of the workshop that the request comes from."""
    return tablet_of_key(request.COOKIES.get(TABLET_COOKIE, ""))


def safe_next(request: HttpRequest, otherwise: str) -> str:
    """Page of this site that the request wants to go on to."""
    asked = request.POST.get("next") or request.GET.get("next") or ""
    safe = url_has_allowed_host_and_scheme(asked, {request.get_host()}, request.is_secure())
    return asked if safe else otherwise
