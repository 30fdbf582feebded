"""The log of writes: a chain of lines in which a change shows."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

from django.db import connection
from django.utils import timezone

from asfound.record.as_files import canonical_json
from asfound.record.models import Car, Entry

START = "0" * 64
"""What the first line names as the hash before it."""
_LOCK = 0x61_66_6C_6F
"""Number of PostgreSQL's advisory lock under which lines are written; SQLite has one writer."""

_WHOLE = 1e16
"""From here on Python writes a float with an exponent, and every float is a whole number."""


def write_entry(
    *,
    action: str,
    by: Any,
    car: Car | None = None,
    before: Any = None,
    after: Any = None,
    who: str = "",
) -> Entry:
    """Line at the end of the log; the caller opens the transaction.

    ``who`` names what did it where it was no person, such as a tablet; a person's name is taken
    from ``by``.
    """
    if connection.vendor == "postgresql":
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_xact_lock(%s)", [_LOCK])
    last = Entry.objects.order_by("-pk").first()
    entry = Entry(
        at=timezone.now(),
        who=who if by is None else by.get_username(),
        by=by,
        action=action,
        car=car,
        before=_as_kept(before),
        after=_as_kept(after),
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Chain:
    """The log as it was checked: how long, the hash at its head, and where it breaks, if it does.

    ``heads_met`` are those of the heads asked for that a line bears before any break.
    """

    lines_n: int
    head: str
    broken: Entry | None
    wrong: str
    heads_met: frozenset[str]


def check_chain(*, heads: frozenset[str] = frozenset()) -> Chain:
    """The whole log held against its hashes, line after line.

    Parameters
    ----------
    heads : frozenset of str
        Hashes noted earlier. A log whose end was cut off fits its own hashes, but no longer
        bears a head that was noted after the cut.
    """
    previous, met, lines_n = START, {START} & heads, 0
    for entry in Entry.objects.order_by("pk").iterator(chunk_size=500):
        wrong = _wrong(entry, previous)
        if wrong:
            return Chain(
                lines_n=Entry.objects.count(),
                head=head_hash(),
                broken=entry,
                wrong=wrong,
                heads_met=frozenset(met),
            )
        previous, lines_n = entry.hash, lines_n + 1
        met |= {previous} & heads
    return Chain(lines_n=lines_n, head=previous, broken=None, wrong="", heads_met=frozenset(met))


def head_hash() -> str:
    """Hash of the last line, which stands for the whole log up to now."""
    last = Entry.objects.order_by("-pk").values_list("hash", flat=True).first()
    return START if last is None else last


def _wrong(entry: Entry, previous: str) -> str:
    if entry.previous_hash != previous:
        return "the line before it is not the one it was written after: one was taken out or put in"
    if entry.hash != hash_of(entry):
        return "what it says is not what its hash was made from: it was changed"
    return ""


def _as_kept(content: Any) -> Any:
    """Content with numbers as both databases give them back, so that its hash stays the same.

    PostgreSQL keeps numbers of JSON as decimals: it has no negative zero, and writes no exponent.
    """
    if isinstance(content, float):
        return int(content) if content.is_integer() and abs(content) >= _WHOLE else content + 0.0
    if isinstance(content, list | tuple):
        return [_as_kept(part) for part in content]
    if hasattr(content, "items"):
        return {str(name): _as_kept(part) for name, part in content.items()}
    return content
