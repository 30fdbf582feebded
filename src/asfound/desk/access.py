"""Who may open what: the car of an address, and whether the person may write to it."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render

from asfound.desk.rooms import WHOLE_CAR, room_of_address
from asfound.record.background import is_anybody_working
from asfound.record.models import Car, Person
from asfound.record.reads import car_for
from asfound.record.reads.people import rooms_open_to


class NotReleasedError(Exception):
    """An owner came to a room that the head has not released, or to one never an owner's.

    Parameters
    ----------
    room : str or None
        Room that the head can release; ``None`` for a page that is the workshop's alone.
    """

    def __init__(self, room: str | None) -> None:
        super().__init__(room)
        self.room = room


def person_of(request: HttpRequest) -> Person | None:
    """Person who is signed in; an account without a role may see nothing."""
    return getattr(request.user, "person", None)


def may_write(request: HttpRequest) -> bool:
    """Whether the person may write to the cars they see."""
    person = person_of(request)
    return person is not None and not person.is_owner


def open_car(request: HttpRequest, slug: str) -> Car:
    """Car of that address; one that is not theirs does not exist for them.

    Raises
    ------
    NotReleasedError
        If an owner came, and the head has not released the room of the address.
    """
    try:
        car = car_for(request.user, slug)
    except Car.DoesNotExist:
        raise Http404(slug) from None
    if not may_write(request):
        room = room_of_address(request.path_info, slug)
        if room != WHOLE_CAR and room not in open_rooms(request, car):
            raise NotReleasedError(room)
    return car


def open_rooms(request: HttpRequest, car: Car) -> frozenset[str]:
    """Rooms of the car that the person may look into."""
    return rooms_open_to(person_of(request), car)


def open_car_to_write(request: HttpRequest, slug: str) -> Car:
    """Car of that address, if the person may write to it."""
    car = open_car(request, slug)
    refuse_readers(request)
    return car


def refuse_readers(request: HttpRequest) -> None:
    """Refusal for who may only read."""
    if not may_write(request):
        raise PermissionDenied("An owner reads the record of a car; the workshop writes it.")


def show(request: HttpRequest, template: str, *, status: int = 200, **context: Any) -> HttpResponse:
    """Page or fragment, with what every template asks for."""
    common: dict[str, Any] = {"person": person_of(request), "may_write": may_write(request)}
    common["no_worker"] = lambda: not is_anybody_working()  # asked only by who shows it
    if isinstance(context.get("car"), Car):
        common["open_rooms"] = open_rooms(request, context["car"])
    return render(request, template, {**common, **context}, status=status)


def wants_whole(request: HttpRequest) -> bool:
    """Whether the page is to be made in one piece, for a browser without scripts."""
    return "whole" in request.GET
