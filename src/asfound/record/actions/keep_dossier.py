"""Keeping a dossier that was made."""

from __future__ import annotations

import io
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car, Dossier
from asfound.record.shelf import shelve


def keep_dossier(*, car: Car, data: bytes, inputs_sha256: str, by: Any) -> Dossier:
    """Dossier of the car, its bytes on the shelf under their hash.

    Parameters
    ----------
    car : Car
    data : bytes
        The PDF.
    inputs_sha256 : str
        Hash of what it was made from.
    by : user or None

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    shelved = shelve(io.BytesIO(data))
    with transaction.atomic():
        made = Dossier.objects.create(
            car=car,
            sha256=shelved.sha256,
            size=shelved.size,
            inputs_sha256=inputs_sha256,
            made_at=timezone.now(),
            made_by=by,
        )
        after = {"sha256": made.sha256, "size": made.size, "inputs_sha256": inputs_sha256}
        write_entry(action="keep dossier", by=by, car=car, after=after)
    return made
