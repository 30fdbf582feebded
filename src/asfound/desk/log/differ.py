"""What differs between two contents of a line of the log, field by field."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Any

from asfound.record.as_files import canonical_json
from asfound.record.tables import TABLES
from asfound.record.tables.words import heading_of

_TEXT_SHOWN = 80
_HASH_SHOWN = 12
_HASH = re.compile(r"[0-9a-f]{64}")
_TIME = re.compile(r"(\d{4}-\d\d-\d\d)T(\d\d:\d\d)(?::\d\d)?(?:\.\d+)?(?:Z|\+00:00)")
_POLYGON = re.compile(r"POLYGON *\(\(([^()]*)\)", re.IGNORECASE)
_NAMES = ("name", "file", "spot", "panel", "part", "subject", "edge")
"""Columns whose cells tell a row apart from its neighbours where its table has no key."""

Row = Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """One thing that the line tells; empty where there was or is nothing.

    ``of`` names the row it belongs to, where the line is about rows of a table.
    """

    name: str
    before: str
    after: str
    of: str = ""


def changes_of(
    before: Any, after: Any, *, table: str = "", whole: bool = False
) -> Iterator[Change]:
    """What differs between the two, field by field; what is there now comes first.

    Parameters
    ----------
    before, after : content of a line as the log keeps it
    table : str
        Table whose rows they are, empty for none. By its key rows are the same row before and
        after; without one, or where it does not tell the rows apart, rows that differ stand beside
        each other in their order.
    whole : bool
        Whether rows that are only added or only taken out are told cell by cell and texts whole,
        not by their number and their beginning.
    """
    yield from _Differ(table=table, whole=whole).between("", before, after)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Differ:
    table: str
    whole: bool

    @property
    def key(self) -> tuple[str, ...]:
        return TABLES[self.table].key if self.table in TABLES else ()

    def between(self, path: str, was: Any, now: Any, of: str = "") -> Iterator[Change]:
        if was == now:
            return
        if _are_rows(was, now) and (self.whole or (was and now)):
            rows = replace(self, table=path) if path in TABLES else self
            yield from rows._rows(was or [], now or [])
        elif isinstance(was or {}, dict) and isinstance(now or {}, dict) and (was or now):
            was, now = was or {}, now or {}
            for name in dict.fromkeys([*now, *was]):
                told = f"{path} {name}" if path else name
                yield from self.between(told, was.get(name), now.get(name), of)
        else:
            before, after = self._words(was), self._words(now)
            if before or after:
                name = heading_of(path, table=self.table) if path else "value"
                yield Change(name=name, before=before, after=after, of=of)

    def _rows(self, was: Sequence[Row], now: Sequence[Row]) -> Iterator[Change]:
        number_of = {id(row): n for rows in (was, now) for n, row in enumerate(rows, start=1)}
        for old, new in _pairs(was, now, self.key):
            row = old if new is None else new
            if row is not None:
                yield from self.between("", old, new, self._of(row, number_of[id(row)]))

    def _of(self, row: Row, number: int) -> str:
        """Name of a row: the cells of its key, or its number with the cells that name it."""
        cells = " · ".join(str(row[name]) for name in self.key or _NAMES if row.get(name))
        return cells if self.key and cells else f"row {number}{cells and f': {cells}'}"

    def _words(self, value: Any) -> str:
        if isinstance(value, list):
            if not value or all(isinstance(part, str) for part in value):
                return self._short(", ".join(value)) or "none"
            return f"{len(value)} row{'s' if len(value) != 1 else ''}"
        if isinstance(value, bool):
            return "yes" if value else "no"
        if isinstance(value, float):
            return f"{value:g}" if abs(value) < 1e5 else repr(value)
        return "" if value is None else self._short(str(value))

    def _short(self, text: str) -> str:
        text = _HASH.sub(lambda found: f"{found[0][:_HASH_SHOWN]} …", text)
        if time := _TIME.fullmatch(text):
            return f"{time[1]} {time[2]} UTC"
        if rows := _rows_in(text):
            return self._words(rows)
        if outline := _POLYGON.match(text):
            return f"outline with {outline[1].count(',')} corners"
        return text if self.whole or len(text) <= _TEXT_SHOWN else f"{text[:_TEXT_SHOWN]} …"


def _rows_in(text: str) -> list[Row]:
    """Rows that a cell holds as JSON, such as marks on a photograph; empty for any other text."""
    try:
        held = json.loads(text) if text.startswith("[{") else []
    except (ValueError, RecursionError):
        return []
    return held if isinstance(held, list) else []


def _are_rows(was: Any, now: Any) -> bool:
    """Whether both are rows of cells, or one is and the other nothing."""
    lists = [part for part in (was, now) if part]
    return all(isinstance(part or [], list) for part in (was, now)) and all(
        isinstance(row, dict) for part in lists for row in part
    )


def _pairs(
    was: Sequence[Row], now: Sequence[Row], key: Sequence[str]
) -> Iterator[tuple[Row | None, Row | None]]:
    """Rows that differ, before and after; ``None`` for one that is new or taken out."""
    texts_was, texts_now = ({canonical_json(row) for row in rows} for rows in (was, now))
    old = [row for row in was if canonical_json(row) not in texts_now]
    new = [row for row in now if canonical_json(row) not in texts_was]
    if key and all(_told_apart(rows, key) for rows in (was, now)):
        before = {_cells(row, key): row for row in old}
        for row in new:
            yield before.pop(_cells(row, key), None), row
        yield from ((row, None) for row in before.values())
    else:
        yield from zip_longest(old, new)


def _told_apart(rows: Sequence[Row], key: Sequence[str]) -> bool:
    return len({_cells(row, key) for row in rows}) == len(rows)


def _cells(row: Row, key: Sequence[str]) -> tuple[str, ...]:
    return tuple(str(row.get(name, "")) for name in key)
