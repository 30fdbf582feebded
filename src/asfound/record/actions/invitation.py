"""Inviting a person to sign in: a link that is good once and for some days."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.account import new_person
from asfound.record.actions.people import WHY_HEAD
from asfound.record.actions.who import check_is_head, check_reason
from asfound.record.log import write_entry
from asfound.record.models import Car, Invitation, Person
from asfound.record.models.person import Role

LASTS = timedelta(days=7)


@transaction.atomic
def invite(
    *, whom: str, role: str, by: Any, cars: Iterable[Car] = (), lasts: timedelta = LASTS
) -> Invitation:
    """Invitation for one person.

    Parameters
    ----------
    whom : str
        For whom it is, in the head's words.
    role : str
        One of ``Role``.
    by : user or None
    cars : iterable of Car
        Which an owner will see; for the workshop, which sees every car, none.
    lasts : timedelta
        After that the link is no longer good.

    Raises
    ------
    PermissionDenied
        If it is not the head who invites.
    InputError
        If ``whom`` is empty, the role is not known, or it has cars that it needs none of.
    """
    check_is_head(by, WHY_HEAD)
    opened = list(cars)
    if not whom.strip():
        raise InputError(field="whom", got=whom, allowed="for whom it is, in a few words")
    if role not in Role.values:
        raise InputError(field="role", got=role, allowed=f"one of {', '.join(Role.values)}")
    if opened and role != Role.OWNER:
        raise InputError(
            field="cars",
            got=", ".join(car.slug for car in opened),
            allowed="none, unless the role is owner",
            remedy="The workshop sees every car.",
        )
    made = Invitation.objects.create(
        whom=whom.strip(), role=role, made_by=by, expires_at=timezone.now() + lasts
    )
    made.cars.set(opened)
    write_entry(action="invite", by=by, after=_told(made, opened))
    return made


@transaction.atomic
def withdraw_invitation(*, invitation: Invitation, reason: str, by: Any) -> None:
    """Make the link good no longer.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If there is no reason, or the invitation is not open.
    """
    check_is_head(by, WHY_HEAD)
    check_reason(reason)
    held = _open(invitation)
    held.withdrawn_at, held.withdrawn_by = timezone.now(), by
    held.withdrawn_reason = reason.strip()
    held.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason"])
    after = {"invitation": held.pk, "reason": held.withdrawn_reason}
    write_entry(action="withdraw invitation", by=by, after=after)


@transaction.atomic
def accept_invitation(*, invitation: Invitation, username: str, password: str) -> Person:
    """Person who was invited, with the name and password that they chose.

    Raises
    ------
    InputError
        If the invitation is not open, the name is empty or taken, or the password too weak.
    """
    held = _open(invitation)
    person = new_person(username=username, role=held.role, password=password)
    cars = list(held.cars.all())
    for car in cars:
        car.owners.add(person)
    held.accepted_at, held.accepted_by = timezone.now(), person
    held.save(update_fields=["accepted_at", "accepted_by"])
    after = {"username": username, **_told(held, cars)}
    write_entry(action="accept invitation", by=person.user, after=after)
    return person


def _open(invitation: Invitation) -> Invitation:
    """The invitation, held against others who come with the same link at once."""
    held = Invitation.objects.select_for_update().open().filter(pk=invitation.pk).first()
    if held is None:
        raise InputError(
            field="invitation",
            got=str(invitation),
            allowed="open: not used, not withdrawn, not too old",
            remedy="Ask the head of the workshop for a new link.",
        )
    return held


def _told(invitation: Invitation, cars: Iterable[Car]) -> dict[str, Any]:
    return {
        "invitation": invitation.pk,
        "whom": invitation.whom,
        "role": invitation.role,
        "cars": [car.slug for car in cars],
    }
