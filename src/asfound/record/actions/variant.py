"""Keeping a choice under a name, and withdrawing it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write, check_reason
from asfound.record.log import write_entry
from asfound.record.models import Car, Variant


@transaction.atomic
def keep_variant(
    *,
    car: Car,
    name: str,
    options: Mapping[str, str],
    sums: Mapping[str, Any],
    brief: Mapping[str, Any] | None,
    by: Any,
    note: str = "",
) -> Variant:
    """Variant of the car.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it has no name, or the car has a variant of that name.
    """
    check_may_write(by)
    take_turn(car)
    if not name.strip():
        raise InputError(field="name", got=name, allowed="given")
    if car.variants.current().filter(name=name.strip()).exists():
        raise InputError(
            field="name",
            got=name.strip(),
            allowed="one that no other variant of the car has",
            remedy="Give it another name, or withdraw the other.",
        )
    made = Variant.objects.create(
        car=car,
        name=name.strip(),
        note=note.strip(),
        options=dict(options),
        sums=dict(sums),
        brief=None if brief is None else dict(brief),
        by=by,
    )
    write_entry(action="keep variant", by=by, car=car, after={"name": made.name, "sums": made.sums})
    return made


@transaction.atomic
def withdraw_variant(*, variant: Variant, reason: str, by: Any) -> None:
    """Take a variant out of the comparison; it stays in the record.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If there is no reason, or it is withdrawn already.
    """
    check_may_write(by)
    check_reason(reason)
    take_turn(variant.car)
    variant.refresh_from_db()
    if variant.withdrawn_at is not None:
        raise InputError(field="variant", got=variant.name, allowed="one that is not withdrawn")
    variant.withdrawn_at, variant.withdrawn_by = timezone.now(), by
    variant.withdrawn_reason = reason.strip()
    variant.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason"])
    after = {"name": variant.name, "reason": variant.withdrawn_reason}
    write_entry(action="withdraw variant", by=by, car=variant.car, after=after)
