"""A line of the log in a few words: what was there before, and what after."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from asfound.record.models import Entry

CHANGES_SHOWN = 6
_TEXT_SHOWN = 80
_HASH_SHOWN = 12
_HASH = re.compile(r"[0-9a-f]{64}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that the line tells; empty where there was or is nothing."""

    name: str
    before: str
    after: str


@dataclass(frozen=True, slots=True, kw_only=True)
class LogLine:
    """A line of the log as the page shows it."""

    pk: int
    at: datetime
    who: str
    action: str
    changes: list[Change]
    more_n: int


def log_line(entry: Entry) -> LogLine:
    """Line with its first few changes, and how many more there are."""
    changes = list(changes_of(entry.before, entry.after))
    return LogLine(
        pk=entry.pk,
        at=entry.at,
        who=entry.who,
        action=entry.action,
        changes=changes[:CHANGES_SHOWN],
        more_n=max(0, len(changes) - CHANGES_SHOWN),
    )


def changes_of(before: Any, after: Any) -> Iterator[Change]:
    """What differs between the two, key by key; what is there now comes first."""
    was, now = _flat(before), _flat(after)
    for name in dict.fromkeys([*now, *was]):
        if was.get(name) != now.get(name):
            told = name.replace("_", " ")
            yield Change(name=told, before=was.get(name, ""), after=now.get(name, ""))


def _flat(content: Any, above: str = "") -> dict[str, str]:
    if content is None:
        return {}
    if not isinstance(content, dict):
        return {above or "value": _words(content)}
    flat: dict[str, str] = {}
    for name, value in content.items():
        path = f"{above} {name}" if above else str(name)
        flat |= _flat(value, path) if isinstance(value, dict) else {path: _words(value)}
    return flat


def _words(value: Any) -> str:
    if isinstance(value, list):
        if not value or all(isinstance(part, str) for part in value):
            return _short(", ".join(value)) or "none"
        return f"{len(value)} row{'s' if len(value) != 1 else ''}"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}" if abs(value) < 1e5 else repr(value)
    return "" if value is None else _short(str(value))


def _short(text: str) -> str:
    if _HASH.fullmatch(text):
        return f"{text[:_HASH_SHOWN]} …"
    return text if len(text) <= _TEXT_SHOWN else f"{text[:_TEXT_SHOWN]} …"
