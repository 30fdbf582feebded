"""What work waits for that is no task: somebody's eyes, a photograph, a part."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time

from asfound.record.convert.errands import days_of
from asfound.record.convert.findings import files_of
from asfound.record.convert.weekdays import last_day
from asfound.record.convert.worked import moment
from asfound.record.folder import CarFolder, Row
from asfound.record.tables.worked import HOLD_KINDS

HOLDS, ERRANDS = "holds", "errands"
OWNER, HEAD, PHOTOGRAPH, PART, SPECIALIST = HOLD_KINDS
OUT = "out"
"""Kind of a wait that nobody set: the piece is out of the workshop on an errand."""
_WORDS = {
    OWNER: "the owner must see it",
    HEAD: "the head must see it",
    PHOTOGRAPH: "it is to be photographed first",
    PART: "a part must come",
    SPECIALIST: "a specialist is waited for",
}

_WAITS = {
    OWNER: "waits for the owner to see {piece}",
    HEAD: "waits for the head to see {piece}",
    PHOTOGRAPH: "waits for {piece} to be photographed",
    PART: "waits for {named} to come",
    SPECIALIST: "waits for {named}",
    OUT: "waits for the {subject}, out at {named}",
}
_UNNAMED = {PART: "a part", SPECIALIST: "a specialist"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """A wait that holds one task, or every open task of a piece.

    Parameters
    ----------
    subject, task : str
        The piece; the task is empty where all of the piece are held.
    kind, why : str
    waits_for : str
        The part or the specialist, or who is to see it, where it was named.
    expected : date or None
        Day on which it is thought to end.
    set_at, released_at : datetime or None
    set_by, released_by, note : str
    finding : str
        The finding in words, where it reopens what was signed for the piece; else empty.
    photos : tuple of str
        Files of the finding's photographs.
    """

    subject: str
    task: str
    kind: str
    why: str
    waits_for: str
    expected: date | None
    set_at: datetime | None
    set_by: str
    released_at: datetime | None
    released_by: str
    note: str
    finding: str
    photos: tuple[str, ...]

    @property
    def is_open(self) -> bool:
        """Whether it still holds."""
        return not self.released_by

    @property
    def reopens(self) -> bool:
        """Whether a finding reopens by it what was signed, and nobody has settled that yet."""
        return self.is_open and bool(self.finding)

    @property
    def waits(self) -> str:
        """What it waits for, in words."""
        if self.kind == OUT:
            due = f", due in {_day(self.expected)}" if self.expected else ""
            return f"{self.subject} out at {self.waits_for}{due}"
        told = _WORDS.get(self.kind, self.kind)
        return f"{told}: {self.waits_for}" if self.waits_for else told

    @property
    def waiting(self) -> str:
        """What the work waits for and since when, as a clause after its name."""
        told = _WAITS.get(self.kind, "waits: {kind}").format(
            piece="it" if self.subject in ("", "car") else f"the {self.subject}",
            kind=self.kind,
            named=self.waits_for or _UNNAMED.get(self.kind, ""),
            subject=self.subject,
        )
        since = f" since {_day(self.set_at.date())}" if self.set_at else ""
        thought = "due in" if self.kind == OUT else "expected"
        until = f", {thought} {_day(self.expected)}" if self.expected else ", no day is expected"
        return f"{told}{since}{until}"

    def holds(self, *, task: str, subject: str) -> bool:
        """Whether a task of a piece is held by it."""
        return self.is_open and (self.task == task if self.task else self.subject == subject)


def _day(day: date) -> str:
    return f"{day.day} {day:%b %Y}"


def hold_of(cells: Mapping[str, str]) -> Hold:
    """Hold that a row tells."""
    return Hold(
        subject=cells.get("subject", ""),
        task=cells.get("task", ""),
        kind=cells.get("kind", ""),
        why=cells.get("why", ""),
        waits_for=cells.get("waits_for", ""),
        expected=last_day(cells.get("expected", "")),
        set_at=moment(cells.get("set_at", "")),
        set_by=cells.get("by", ""),
        released_at=moment(cells.get("released_at", "")),
        released_by=cells.get("released_by", ""),
        note=cells.get("note", ""),
        finding=cells.get("finding", ""),
        photos=files_of(cells.get("photo", "")),
    )


def hold_words(cells: Mapping[str, str]) -> str:
    """What is held, by what, and how long it is thought to last."""
    one = hold_of(cells)
    held = f"task {one.task}" if one.task else "every task"
    told = [f"{held}, {one.waits}", one.why, f"expected {cells.get('expected', '')}"]
    if not one.is_open:
        told.append(f"released by {one.released_by}" + (f", {one.note}" if one.note else ""))
    return "; ".join(told)


def open_holds(car: CarFolder) -> tuple[Hold, ...]:
    """Holds of the car that hold still."""
    return tuple(one for row in car.sheet(HOLDS) if (one := hold_of(row.cells)).is_open)


def waits_on(car: CarFolder) -> tuple[Hold, ...]:
    """All that work on the car waits for: what is held, and pieces that are out on an errand."""
    return (*open_holds(car), *(_out(row) for row in car.sheet(ERRANDS) if not row.text("back_on")))


def _out(row: Row) -> Hold:
    sent = days_of(row.text("sent_on"))[0]
    return Hold(
        subject=row.text("part"),
        task="",
        kind=OUT,
        why=row.text("work"),
        waits_for=row.text("to"),
        expected=days_of(row.text("due_on"))[1],
        set_at=None if sent is None else datetime.combine(sent, time(), tzinfo=UTC),
        set_by=row.text("by"),
        released_at=None,
        released_by="",
        note="",
        finding="",
        photos=(),
    )


def holding(holds: Iterable[Hold], *, task: str, subject: str) -> tuple[Hold, ...]:
    """Holds that keep a task from being begun, the longest last."""
    found = [one for one in holds if one.holds(task=task, subject=subject)]
    return tuple(sorted(found, key=lambda one: one.expected or date.max))
