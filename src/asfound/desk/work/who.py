"""As whom of the plan's people somebody works who is signed in."""

from __future__ import annotations

from collections.abc import Iterable

from django.http import HttpRequest

from asfound.record.convert.cards import person_called
from asfound.record.folder import CarFolder

_KEPT = "works_as"


def worker_in(request: HttpRequest, folder: CarFolder) -> str:
    """Name in the car's table of people; the name to sign in with where it has none like it."""
    return chosen(request) or known_in(request, folder) or request.user.get_username()


def known_in(request: HttpRequest, folder: CarFolder) -> str:
    """Name in the car's table of people; empty where none is like the one signed in."""
    user = request.user
    return person_called(folder, user.get_username(), getattr(user, "get_full_name", str)())


def chosen(request: HttpRequest) -> str:
    """Name that this person chose on this device, empty for none."""
    kept = request.session.get(_KEPT) or {}
    return str(kept.get("name", "")) if kept.get("user") == request.user.pk else ""


def choose(request: HttpRequest, name: str) -> None:
    """Keep as whom the person works, until they sign out or choose again."""
    request.session[_KEPT] = {"user": request.user.pk, "name": name}


def people_of(folders: Iterable[CarFolder]) -> list[str]:
    """Everybody whom the cars' tables name, each once."""
    named = (row.text("person") for folder in folders for row in folder.sheet("people"))
    return sorted({name for name in named if name})
