"""A line of the log in a few words: what was there before, and what after."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from asfound.desk.log.differ import Change, changes_of
from asfound.record.actions.words import in_words
from asfound.record.models import Entry
from asfound.record.tables import TABLES

CHANGES_SHOWN = 6
FIELDS_SHOWN = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class LogLine:
    """A line of the log as the page shows it."""

    pk: int
    at: datetime
    who: str
    action: str
    words: str
    changes: Sequence[Change]
    more_n: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Changes of one row of a table, or of what the line is about where ``of`` is empty."""

    of: str
    changes: Sequence[Change]


@dataclass(frozen=True, slots=True, kw_only=True)
class WholeLine:
    """All that a line changed, row by row, as far as a page takes it."""

    words: str
    groups: Sequence[Group]
    has_before: bool
    has_after: bool
    more_n: int


def log_line(entry: Entry) -> LogLine:
    """Line with its first few changes, and how many more there are."""
    changes = list(changes_of(entry.before, entry.after, table=_table(entry)))
    return LogLine(
        pk=entry.pk,
        at=entry.at,
        who=entry.who,
        action=entry.action,
        words=in_words(entry.action),
        changes=changes[:CHANGES_SHOWN],
        more_n=max(0, len(changes) - CHANGES_SHOWN),
    )


def whole_line(entry: Entry) -> WholeLine:
    """Line with every field that differs, new rows and those taken out cell by cell."""
    changes = list(changes_of(entry.before, entry.after, table=_table(entry), whole=True))
    shown = changes[:FIELDS_SHOWN]
    return WholeLine(
        words=in_words(entry.action),
        groups=_grouped(shown),
        has_before=any(change.before for change in shown),
        has_after=any(change.after for change in shown),
        more_n=len(changes) - len(shown),
    )


def _grouped(changes: Sequence[Change]) -> list[Group]:
    groups: dict[str, list[Change]] = {}
    for change in changes:
        groups.setdefault(change.of, []).append(change)
    return [Group(of=of, changes=those) for of, those in groups.items()]


def _table(entry: Entry) -> str:
    """Table that the line wrote whole; empty where it is of no such table."""
    table = entry.action.removeprefix("set ").removeprefix("the workshop's ")
    return table if table in TABLES else ""
