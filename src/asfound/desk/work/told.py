"""What was written on cards, in words: stretches of work, materials, results."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from typing import Any

from django.utils import timezone

from asfound.desk.observed.lines import ObservedLine, observed_line
from asfound.record.convert.worked import moment, stretch_of
from asfound.record.models import Car, Observation
from asfound.record.reads.worked import on_card

Cells = Mapping[str, str]


def hours_words(hours: float) -> str:
    """Hours and minutes.

    Examples
    --------
    >>> hours_words(1.75), hours_words(0.5)
    ('1 h 45 min', '30 min')
    """
    whole, minutes = divmod(round(hours * 60), 60)
    told = [f"{whole} h"] * bool(whole) + [f"{minutes} min"] * bool(minutes or not whole)
    return " ".join(told)


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


def material_told(cells: Cells) -> str:
    """What was used, how much, and of which batch."""
    amount = " ".join(word for word in (cells.get("amount", ""), cells.get("unit", "")) if word)
    told = [cells.get("material", ""), amount, f"batch {cells.get('batch', '')}", _note(cells)]
    return ", ".join(word for word in told if word)


def result_told(cells: Cells) -> str:
    """What was measured, with which tool, and whether it lies where it is to lie."""
    unit, least, most = cells.get("unit", ""), cells.get("least", ""), cells.get("most", "")
    told = f"{cells.get('kind', '')} {cells.get('value', '')} {unit}"
    if least and most:
        told += f" (to be {least} to {most} {unit})"
    elif least or most:
        told += f" (to be {f'{least} or more' if least else f'{most} or less'} {unit})"
    if is_out(cells):
        told += ", outside of that"
    return ", ".join(w for w in (told, f"with {cells.get('tool', '')}", _note(cells)) if w)


def is_out(cells: Cells) -> bool:
    """Whether a result lies outside of what it is to be."""
    value = float(cells.get("value") or "nan")
    least, most = cells.get("least", ""), cells.get("most", "")
    return bool(least and value < float(least)) or bool(most and value > float(most))


TOLD: dict[str, Callable[[Cells], str]] = {
    "worked": stretch_told,
    "materials_used": material_told,
    "results": result_told,
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
    return text if at is None else f"{timezone.localtime(at):%a %d %b %H:%M}"


def _day(at: datetime) -> Any:
    return timezone.localtime(at).date()


def _note(cells: Cells) -> str:
    return cells.get("note", "")
