"""Keeping a photograph or other file of a car."""

from __future__ import annotations

from typing import IO, Any

from django.db import transaction

from asfound.base import InputError
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car, KeptFile
from asfound.record.shelf import shelve


def keep_file(*, car: Car, path: str, stream: IO[bytes], by: Any) -> KeptFile:
    """File of the car, its bytes on the shelf under their hash.

    Parameters
    ----------
    car : Car
    path : str
        Where it lies in the car folder, below ``photos/``.
    stream : binary file
    by : user or None

    Raises
    ------
    InputError
        If the path leaves ``photos/`` or another file has it.
    """
    check_may_write(by)
    parts = path.split("/")
    if len(parts) < 2 or parts[0] != "photos" or {"", ".", ".."} & set(parts):
        raise InputError(field="path", got=path, allowed="a path below photos/")
    if car.kept_files.filter(path=path).exists():
        raise InputError(
            field="path", got=path, allowed="free", remedy="Give the file another name."
        )
    shelved = shelve(stream)
    with transaction.atomic():
        kept = KeptFile.objects.create(car=car, path=path, sha256=shelved.sha256, size=shelved.size)
        after = {"path": path, "sha256": kept.sha256, "size": kept.size}
        write_entry(action="keep file", by=by, car=car, after=after)
    return kept
