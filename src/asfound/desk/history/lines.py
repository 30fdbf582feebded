"""What the history says, as lines for the page."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from asfound.record.convert.history import Statement
from asfound.record.convert.standing import counts
from asfound.record.folder import CarFolder, Row
from asfound.record.results.history import day_words, link_words, said_words, window_words
from asfound.weigh.dates import Clash, Dated, HistoryReading

KINDS = {"event": ("events", "event"), "link": ("event_links", "id")}
"""Table and name column of each kind of statement."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StatementLine:
    """A statement: a link, or the window of an event."""

    kind: str
    name: str
    words: str
    standing: str
    why: str

    @property
    def key(self) -> str:
        """Kind and name in one word, as the address of a look without it carries it."""
        return f"{self.kind}:{self.name}"

    @property
    def title(self) -> str:
        """What it is called for people: the event, or what the link says."""
        return self.name if self.kind == "event" else self.words

    @property
    def counts(self) -> bool:
        """Whether nobody doubted or withdrew it."""
        return self.standing == "holds"


@dataclass(frozen=True, slots=True, kw_only=True)
class EventLine:
    """An event in the list."""

    event: str
    subject: str
    said: str
    first: str
    likely: str
    last: str
    holds: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """How an event's window differs when a statement is left out."""

    event: str
    before: str
    after: str


def statement_line(kind: str, row: Row) -> StatementLine:
    """Line of the statement that a row makes."""
    name = row.text(KINDS[kind][1])
    return StatementLine(
        kind=kind,
        name=name,
        words=window_words(row) if kind == "event" else link_words(row),
        standing="holds" if counts(row) else row.text("standing"),
        why=row.text("standing_why"),
    )


def statements(car: CarFolder) -> dict[Statement, StatementLine]:
    """Every statement of the car by its kind and name."""
    lines = [
        statement_line(kind, row) for kind, (table, _) in KINDS.items() for row in car.sheet(table)
    ]
    return {(line.kind, line.name): line for line in lines}


def clash_lines(clash: Clash, lines: dict[Statement, StatementLine]) -> list[StatementLine]:
    """Statements of a clash."""
    keys = [("event", name) for name in clash.events] + [("link", name) for name in clash.links]
    return [lines[key] for key in keys]


def event_lines(car: CarFolder, reading: HistoryReading, names: Collection[str]) -> list[EventLine]:
    """Lines of some events, in the order of their names given."""
    rows = {row.text("event"): row for row in car.sheet("events")}
    dated = {one.event: one for one in reading.events}
    return [_event_line(rows[name], dated[name]) for name in names]


def changes(before: HistoryReading, after: HistoryReading) -> list[Change]:
    """Events whose window differs, with both."""
    pairs = zip(before.events, after.events, strict=True)
    told = [(one.event, window(one), window(other)) for one, other in pairs]
    return [Change(event=e, before=one, after=other) for e, one, other in told if one != other]


def window(dated: Dated) -> str:
    """First and last day of an event in words."""
    if not dated.holds:
        return "clash"
    if dated.first is None and dated.last is None:
        return "open on both sides"
    if dated.first == dated.last:
        return day_words(dated.first)
    if dated.first is None:
        return f"not after {day_words(dated.last)}"
    if dated.last is None:
        return f"not before {day_words(dated.first)}"
    return f"{day_words(dated.first)} to {day_words(dated.last)}"


def links_of(event: str, lines: Collection[StatementLine], car: CarFolder) -> list[StatementLine]:
    """Links that tie an event, those that do not count among them."""
    tied = {
        row.text("id")
        for row in car.sheet("event_links")
        if event in (row.text("from"), row.text("to"))
    }
    return [line for line in lines if line.kind == "link" and line.name in tied]


def asked_without(
    keys: Sequence[str], lines: dict[Statement, StatementLine]
) -> list[StatementLine]:
    """Statements that the address asks to be left out for a look."""
    asked = [tuple(key.partition(":")[::2]) for key in keys]
    return [lines[key] for key in dict.fromkeys(asked) if key in lines]


def _event_line(row: Row, dated: Dated) -> EventLine:
    likely = dated.likely
    return EventLine(
        event=dated.event,
        subject=row.text("subject"),
        said=said_words(row) if counts(row) else f"{said_words(row)} ({row.text('standing')})",
        first=day_words(dated.first) if dated.holds else "clash",
        likely="–" if likely is None else day_words(likely.p50),
        last=day_words(dated.last) if dated.holds else "clash",
        holds=dated.holds,
    )
