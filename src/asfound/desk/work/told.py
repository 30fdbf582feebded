"""What was written on cards, in words: stretches of work, materials, results."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from typing import Any

from django.utils import timezone

from asfound.desk.observed.lines import ObservedLine, observed_line
from asfound.record.convert.work_words import hours_words, material_words, result_words
from asfound.record.convert.worked import moment, stretch_of
from asfound.record.models import Car, Observation
from asfound.record.reads.worked import on_card

Cells = Mapping[str, str]


def stretch_told(cells: Cells) -> str:
    """Who worked when, and whether it was done."""
    one, now = stretch_of(cells), timezone.now()
    begun = _when(cells.get("from_at", ""))
    if one.is_open:
        return f"{one.person}, since {begun}"
    ended = moment(cells["to_at"])
    until = _when(cells["to_at"])
    if one.begun and ended and _day(one.begun) == _day(ended):
        until = timezone.localtime(ended).strftime("%H:%M")
    told = f"{one.person}, {begun} to {until}, {hours_words(one.hours(now))}"
    said = [f"no photograph: {cells['no_photo']}"] if cells.get("no_photo") else []
    said += [cells["note"]] if cells.get("note") else []
    return "; ".join([told + (", done" if one.done else ""), *said])


TOLD: dict[str, Callable[[Cells], str]] = {
    "worked": stretch_told,
    "materials_used": material_words,
    "results": result_words,
}
HEADS = {"worked": "Time", "materials_used": "Materials", "results": "Results"}


def entry_lines(car: Car, task: str) -> list[tuple[str, list[ObservedLine]]]:
    """What was written on a card, by kind, the newest first; how it was before follows."""
    return [
        (head, kept)
        for table, head in HEADS.items()
        if (kept := lines_told(table, on_card(car, table, task)))
    ]


def lines_told(table: str, rows: Iterable[Observation]) -> list[ObservedLine]:
    """Lines of rows of one table; a stretch that only ended is not told twice."""
    return [
        observed_line(row, TOLD[table])
        for row in rows
        if not (table == "worked" and _only_ended(row))
    ]


def _only_ended(row: Observation) -> bool:
    """Whether the row was corrected by nothing but its end."""
    new: Any = row.superseded_by
    if new is None or row.cells.get("to_at"):
        return False
    same = ("task", "subject", "person", "from_at")
    return all(row.cells.get(name, "") == new.cells.get(name, "") for name in same)


def _when(text: str) -> str:
    at = moment(text)
    return text if at is None else f"{timezone.localtime(at):%a %-d %b %H:%M}"


def _day(at: datetime) -> Any:
    return timezone.localtime(at).date()
