"""People: access withdrawn and given back, a role changed, a car closed to its owner."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.who import check_is_head, check_reason
from asfound.record.log import write_entry
from asfound.record.models import Car, Person
from asfound.record.models.person import Role

WHY_HEAD = "The head of the workshop says who may sign in, and what owners see."


@transaction.atomic
def withdraw_access(*, person: Person, reason: str, by: Any) -> None:
    """Let a person sign in no longer; what they wrote stays theirs.

    Raises
    ------
    PermissionDenied
        If it is not the head who does it.
    InputError
        If there is no reason, access was withdrawn already, or no head would be left.
    """
    check_is_head(by, WHY_HEAD)
    check_reason(reason)
    _take_turn(person)
    if person.withdrawn_at is not None:
        raise InputError(field="person", got=str(person), allowed="one who may sign in")
    _check_head_is_left(person)
    person.withdrawn_at, person.withdrawn_by = timezone.now(), by
    person.withdrawn_reason, person.pin_hash = reason.strip(), ""
    person.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason", "pin_hash"])
    _set_active(person, active=False)
    write_entry(
        action="withdraw access",
        by=by,
        before={"username": str(person), "role": person.role},
        after={"reason": person.withdrawn_reason},
    )


@transaction.atomic
def restore_access(*, person: Person, by: Any) -> None:
    """Let a person sign in again, with the password they had.

    Raises
    ------
    PermissionDenied
        If it is not the head who does it.
    InputError
        If access was not withdrawn.
    """
    check_is_head(by, WHY_HEAD)
    _take_turn(person)
    if person.withdrawn_at is None:
        raise InputError(field="person", got=str(person), allowed="one whose access was withdrawn")
    before = {"withdrawn": person.withdrawn_reason}
    person.withdrawn_at = person.withdrawn_by = None
    person.withdrawn_reason = ""
    person.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason"])
    _set_active(person, active=True)
    after = {"username": str(person), "role": person.role}
    write_entry(action="restore access", by=by, before=before, after=after)


@transaction.atomic
def change_role(*, person: Person, role: str, reason: str, by: Any) -> None:
    """Give a person another role from now on.

    Raises
    ------
    PermissionDenied
        If it is not the head who does it.
    InputError
        If the role is not known or the one they have, or no head would be left.
    """
    check_is_head(by, WHY_HEAD)
    check_reason(reason)
    _take_turn(person)
    if role not in Role.values or role == person.role:
        raise InputError(field="role", got=role, allowed="another role than the person has")
    _check_head_is_left(person)
    before = {"username": str(person), "role": person.role}
    person.role = role
    person.pin_hash = "" if role == Role.OWNER else person.pin_hash
    person.save(update_fields=["role", "pin_hash"])
    after = {"username": str(person), "role": role, "reason": reason.strip()}
    write_entry(action="change role", by=by, before=before, after=after)


@transaction.atomic
def close_car_to_owner(*, car: Car, owner: Person, reason: str, by: Any) -> None:
    """Close a car to somebody who could see it as its owner.

    Raises
    ------
    PermissionDenied
        If it is not the head who does it.
    InputError
        If there is no reason, or the car is not open to them.
    """
    check_is_head(by, WHY_HEAD)
    check_reason(reason)
    if not car.owners.contains(owner):
        raise InputError(field="owner", got=str(owner), allowed="one who may see the car")
    car.owners.remove(owner)
    after = {"username": str(owner), "reason": reason.strip()}
    write_entry(action="close car to owner", by=by, car=car, after=after)


def _take_turn(person: Person) -> None:
    """Wait until nobody else changes people, and read that person anew.

    All heads are held, in one order: two who withdraw each other can neither both succeed nor
    wait for each other for ever.
    """
    list(Person.objects.select_for_update().filter(role=Role.HEAD).order_by("pk"))
    held = Person.objects.select_for_update().get(pk=person.pk)
    person.role, person.withdrawn_at = held.role, held.withdrawn_at
    person.withdrawn_reason = held.withdrawn_reason


def _check_head_is_left(person: Person) -> None:
    others = Person.objects.current().filter(role=Role.HEAD).exclude(pk=person.pk)
    if person.role == Role.HEAD and not others.exists():
        raise InputError(
            field="person",
            got=str(person),
            allowed="not the only head of the workshop",
            remedy="Make another person head first.",
        )


def _set_active(person: Person, *, active: bool) -> None:
    person.user.is_active = active
    person.user.save(update_fields=["is_active"])
