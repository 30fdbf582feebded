"""Tablets that the people of the workshop share."""

from __future__ import annotations

import hashlib
import secrets
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.people import WHY_HEAD
from asfound.record.actions.who import check_is_head, check_reason
from asfound.record.log import write_entry
from asfound.record.models import Tablet


@transaction.atomic
def add_tablet(*, name: str, by: Any) -> tuple[Tablet, str]:
    """Tablet of the workshop, and the key that the device is to keep; the record has its hash.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If it has no name.
    """
    check_is_head(by, WHY_HEAD)
    if not name.strip():
        raise InputError(field="name", got=name, allowed="a name, such as where it hangs")
    key = secrets.token_urlsafe(32)
    tablet = Tablet.objects.create(name=name.strip(), key_sha256=hash_of_key(key), added_by=by)
    write_entry(action="add tablet", by=by, after={"tablet": tablet.name})
    return tablet, key


@transaction.atomic
def withdraw_tablet(*, tablet: Tablet, reason: str, by: Any) -> None:
    """Let nobody sign in with a PIN at that tablet any more.

    Raises
    ------
    PermissionDenied
        If it is not the head of the workshop.
    InputError
        If there is no reason, or it was withdrawn already.
    """
    check_is_head(by, WHY_HEAD)
    check_reason(reason)
    held = Tablet.objects.select_for_update().current().filter(pk=tablet.pk).first()
    if held is None:
        raise InputError(field="tablet", got=str(tablet), allowed="one that was not withdrawn")
    held.withdrawn_at, held.withdrawn_by = timezone.now(), by
    held.withdrawn_reason = reason.strip()
    held.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason"])
    after = {"tablet": held.name, "reason": held.withdrawn_reason}
    write_entry(action="withdraw tablet", by=by, after=after)


def hash_of_key(key: str) -> str:
    """What the record keeps of a tablet's key; the key is random, so that no salt is needed."""
    return hashlib.sha256(key.encode()).hexdigest()
