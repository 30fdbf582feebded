"""Accounts: who may sign in, and which cars an owner may see."""

from __future__ import annotations

from typing import Any

from django.contrib.auth import get_user_model
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.people import WHY_HEAD
from asfound.record.actions.who import check_is_head
from asfound.record.log import write_entry
from asfound.record.models import Car, Person
from asfound.record.models.person import Role, Units


@transaction.atomic
def create_account(
    *, username: str, role: str, password: str, by: Any, units: str = Units.METRIC
) -> Person:
    """Person who may sign in.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If the name is empty or taken, the role is not known, or the password is too weak.
    """
    check_is_head(by, WHY_HEAD)
    person = new_person(username=username, role=role, password=password, units=units)
    write_entry(action="create account", by=by, after={"username": username, "role": role})
    return person


def new_person(*, username: str, role: str, password: str, units: str = Units.METRIC) -> Person:
    """Person who may sign in; the caller opens the transaction and writes the line of the log.

    Raises
    ------
    InputError
        As :func:`create_account`.
    """
    users = get_user_model()._default_manager
    if not username.strip():
        raise InputError(field="username", got=username, allowed="a name to sign in with")
    if users.filter(username=username).exists():
        raise InputError(
            field="username", got=username, allowed="free", remedy="Choose another name."
        )
    if role not in Role.values:
        raise InputError(field="role", got=role, allowed=f"one of {', '.join(Role.values)}")
    _check_password(password, users.model(username=username))
    user = users.create_user(username=username, password=password)
    return Person.objects.create(user=user, role=role, units=units)


@transaction.atomic
def set_password(*, person: Person, password: str, by: Any) -> None:
    """Give the person a new password; the log says that, not which.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If the password is too weak.
    """
    if by is None or by.pk != person.user_id:
        check_is_head(by, WHY_HEAD)
    _check_password(password, person.user)
    person.user.set_password(password)
    person.user.save(update_fields=["password"])
    write_entry(action="set password", by=by, after={"username": str(person)})


@transaction.atomic
def grant_owner(*, car: Car, owner: Person, by: Any) -> None:
    """Open the car to its owner.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If the person is not an owner.
    """
    check_is_head(by, WHY_HEAD)
    if not owner.is_owner:
        raise InputError(
            field="owner",
            got=str(owner),
            allowed="an account with the role owner",
            remedy="The workshop sees every car.",
        )
    car.owners.add(owner)
    write_entry(action="grant owner", by=by, car=car, after={"username": str(owner)})


def _check_password(password: str, user: Any) -> None:
    """Raise what ``AUTH_PASSWORD_VALIDATORS`` say; the password itself is never told."""
    try:
        validate_password(password, user)
    except ValidationError as error:
        raise InputError(
            field="password", got="…", allowed="hard to guess", remedy=" ".join(error.messages)
        ) from None
