"""Who may write. ``None`` stands for the command line, whose user owns the database anyway."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied

from asfound.base import InputError
from asfound.record.models import Car


def check_may_write(by: Any) -> None:
    """Raise where the person may only read.

    Raises
    ------
    PermissionDenied
        If the person is an owner, or has no role.
    """
    if by is None:
        return
    person = getattr(by, "person", None)
    if person is None or not by.is_active or person.is_owner:
        raise PermissionDenied("An owner reads the record of a car; the workshop writes it.")


def check_is_head(
    by: Any, why: str = "The head of the workshop keeps the tables that all cars share."
) -> None:
    """Raise where the person is not the head of the workshop, saying why it takes the head.

    Raises
    ------
    PermissionDenied
        If the person has another role, or none.
    """
    if by is None:
        return
    person = getattr(by, "person", None)
    if person is None or not by.is_active or not person.is_head:
        raise PermissionDenied(why)


def is_owner_of(car: Car, by: Any) -> bool:
    """Whether the person is an owner of the car, and not of the workshop."""
    person = getattr(by, "person", None)
    return (
        person is not None
        and by.is_active
        and person.is_owner
        and car.owners.filter(pk=person.pk).exists()
    )


def check_reason(reason: str) -> None:
    """Raise where no reason is given for what takes something back.

    Raises
    ------
    InputError
        If it is empty.
    """
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")
