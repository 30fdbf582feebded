"""Who may sign in, at which tablets, and what an owner may look into."""

from __future__ import annotations

from typing import Any

from django.db.models import Case, F, QuerySet, When

from asfound.record.actions.tablet import hash_of_key
from asfound.record.models import Car, Invitation, Person, Release, Tablet
from asfound.record.models.person import Role
from asfound.record.models.release import OwnersRoom
from asfound.record.reads.cars import cars_for
from asfound.record.reads.money import may_see_money


def people() -> QuerySet[Person]:
    """Everybody with an account, those who may sign in first, heads before others, by name."""
    rank = Case(*(When(role=role, then=n) for n, role in enumerate(Role.values)))
    return (
        Person.objects.select_related("user", "withdrawn_by")
        .prefetch_related("cars")
        .order_by(F("withdrawn_at").asc(nulls_first=True), rank, "user__username")
    )


def people_with_pin() -> QuerySet[Person]:
    """People of the workshop who can enter at a shared tablet."""
    return (
        Person.objects.current()
        .exclude(pin_hash="")
        .exclude(role=Role.OWNER)
        .select_related("user")
        .order_by("user__username")
    )


def open_invitations() -> QuerySet[Invitation]:
    """Invitations that can still be accepted."""
    return Invitation.objects.open().select_related("made_by").prefetch_related("cars")


def tablet_of_key(key: str) -> Tablet | None:
    """Tablet that holds the key, unless it was withdrawn."""
    return Tablet.objects.current().filter(key_sha256=hash_of_key(key)).first() if key else None


def rooms_released(car: Car) -> frozenset[str]:
    """Rooms of the car that its owner may look into."""
    return frozenset(car.releases.current().values_list("room", flat=True))


def rooms_open_to(person: Person | None, car: Car) -> frozenset[str]:
    """Rooms that the person may look into: those released for an owner, all for the workshop.

    The room of money is the head's, who may open it to all of the workshop.
    """
    if person is None:
        return frozenset()
    if person.is_owner:
        return rooms_released(car)
    closed = set() if may_see_money(person.user, car) else {OwnersRoom.MONEY.value}
    return frozenset(OwnersRoom.values) - closed


def cars_with_room(user: Any, room: str) -> QuerySet[Car]:
    """Cars in which the user may look into that room: a search over many cars asks this first."""
    seen = cars_for(user)
    person = getattr(user, "person", None)
    if person is None or not person.is_owner:
        return seen
    return seen.filter(pk__in=Release.objects.current().filter(room=room).values("car"))
