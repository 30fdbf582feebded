"""The dossiers made so far, and whether the car has changed since."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime

from django.core.cache import cache

from asfound.record.as_files import for_owner, table_files
from asfound.record.convert.salvage_used import MaterialUse
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Dossier
from asfound.record.reads.salvage_used import material_of


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeLine:
    """One dossier as a line of the list."""

    pk: int
    made_at: datetime
    by_words: str
    megabytes: float
    sha256: str
    is_current: bool


def made_lines(made: Iterable[Dossier], car: Car, folder: CarFolder) -> list[MadeLine]:
    """Lines of dossiers, each held against the car as it is now."""
    made = list(made)
    now = _inputs_now(car, folder) if made else ""
    return [
        MadeLine(
            pk=one.pk,
            made_at=one.made_at,
            by_words=one.made_by.get_username() if one.made_by else "the command line",
            megabytes=one.size / 1e6,
            sha256=one.sha256,
            is_current=one.inputs_sha256 == now,
        )
        for one in made
    ]


def _inputs_now(car: Car, folder: CarFolder) -> str:
    """Hash of the car's tables, computed once between two writes: each leaves a line in the log."""
    last = car.entries.order_by("-pk").values_list("hash", flat=True).first()
    key = f"dossier-inputs:{last}"
    known: str | None = cache.get(key) if last else None
    if known is None:
        known = inputs_sha256(folder, material_of(car))
        cache.set(key, known)
    return known


def inputs_sha256(folder: CarFolder, material: Iterable[MaterialUse] = ()) -> str:
    """Hash of everything that a dossier is made from."""
    whole = hashlib.sha256()
    for name, data in sorted(table_files(for_owner(folder)).items()):
        whole.update(f"{name}:{len(data)}:".encode() + data)
    for kept in folder.files:
        whole.update(f"{kept.path}:{kept.sha256}:".encode())
    for use in material:
        whole.update(repr(use).encode())
    return whole.hexdigest()
