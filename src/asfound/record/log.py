"""The log of writes: a chain of lines in which a change shows."""

from __future__ import annotations

import hashlib
from typing import Any

from django.db import connection
from django.utils import timezone

from asfound.record.as_files import canonical_json
from asfound.record.models import Car, Entry

START = "0" * 64
"""What the first line names as the hash before it."""
_LOCK = 0x61_66_6C_6F
"""Number of PostgreSQL's advisory lock under which lines are written; SQLite has one writer."""


def write_entry(
    *, action: str, by: Any, car: Car | None = None, before: Any = None, after: Any = None
) -> Entry:
    """Line at the end of the log; the caller opens the transaction."""
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_LOCK])
    last = Entry.objects.order_by("-pk").first()
    entry = Entry(
        at=timezone.now(),
        who="" if by is None else by.get_username(),
        by=by,
        action=action,
        car=car,
        before=before,
        after=after,
        previous_hash=START if last is None else last.hash,
    )
    entry.hash = hash_of(entry)
    entry.save()
    return entry


def hash_of(entry: Entry) -> str:
    """SHA-256 over the line as canonical JSON, the hash of the line before it included."""
    told = {
        "at": entry.at.isoformat(),
        "who": entry.who,
        "action": entry.action,
        "car": entry.car_id,
        "before": entry.before,
        "after": entry.after,
        "previous": entry.previous_hash,
    }
    return hashlib.sha256(canonical_json(told)).hexdigest()


def first_broken_entry() -> Entry | None:
    """First line that does not fit its hash or the line before it; ``None`` if all fit."""
    previous = START
    for entry in Entry.objects.order_by("pk").iterator(chunk_size=500):
        if entry.previous_hash != previous or entry.hash != hash_of(entry):
            return entry
        previous = entry.hash
    return None
