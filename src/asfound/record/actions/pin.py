"""A PIN for the tablets of the workshop."""

from __future__ import annotations

import re
from typing import Any

from django.contrib.auth.hashers import check_password, make_password
from django.core.exceptions import PermissionDenied
from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Person, Tablet

PIN_TRIES = 10
"""Wrong tries after which a PIN is closed for good, and a new one must be set."""
_PIN = re.compile(r"[0-9]{4,8}")
_RUNS = ("0123456789012345", "9876543210987654")


@transaction.atomic
def set_pin(*, person: Person, pin: str, by: Any) -> None:
    """Give a person of the workshop a PIN; the log says that, not which.

    Raises
    ------
    PermissionDenied
        If it is neither the person nor the head who does it.
    InputError
        If the PIN is not 4 to 8 digits or easy to guess, or the person is an owner.
    """
    _check_is_self_or_head(person, by)
    if person.is_owner or person.withdrawn_at is not None:
        raise InputError(field="person", got=str(person), allowed="at work in the workshop")
    _check_pin(pin)
    person.pin_hash, person.pin_wrong_n = make_password(pin), 0
    person.save(update_fields=["pin_hash", "pin_wrong_n"])
    write_entry(action="set PIN", by=by, after={"username": str(person)})


@transaction.atomic
def clear_pin(*, person: Person, by: Any) -> None:
    """Take a person's PIN away; they sign in with their password as before."""
    _check_is_self_or_head(person, by)
    person.pin_hash, person.pin_wrong_n = "", 0
    person.save(update_fields=["pin_hash", "pin_wrong_n"])
    write_entry(action="clear PIN", by=by, after={"username": str(person)})


@transaction.atomic
def try_pin(*, person: Person, pin: str, tablet: Tablet) -> bool:
    """Whether that is the person's PIN; after ten wrong ones in a row it is closed."""
    held = Person.objects.select_for_update().current().filter(pk=person.pk).first()
    if held is None or held.is_owner or not held.pin_hash:
        return False
    right = check_password(pin, held.pin_hash)
    held.pin_wrong_n = 0 if right else held.pin_wrong_n + 1
    if held.pin_wrong_n >= PIN_TRIES:
        held.pin_hash, held.pin_wrong_n = "", 0
        after = {"username": str(held), "reason": f"{PIN_TRIES} wrong tries in a row"}
        write_entry(action="close PIN", by=None, who=f"tablet {tablet.name}", after=after)
    held.save(update_fields=["pin_hash", "pin_wrong_n"])
    return right


def _check_is_self_or_head(person: Person, by: Any) -> None:
    check_may_write(by)
    if by is not None and by.pk != person.user_id and not by.person.is_head:
        raise PermissionDenied("A PIN is set by the person themselves or by the head.")


def _check_pin(pin: str) -> None:
    if not _PIN.fullmatch(pin):
        raise InputError(field="PIN", got="…", allowed="4 to 8 digits")
    if len(set(pin)) == 1 or any(pin in run for run in _RUNS):
        raise InputError(
            field="PIN",
            got="…",
            allowed="hard to guess",
            remedy="Take other digits than a row or one digit again and again.",
        )
