"""What stands against reading a history, each at its row."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from asfound.base import InputError
from asfound.record.convert.cell_fault import cell_fault
from asfound.record.convert.edtf_days import edtf_days
from asfound.record.convert.standing import standing_faults
from asfound.record.faults import Fault
from asfound.record.folder import Row, Sheet
from asfound.weigh.dates import Step, at_least, at_most, iso_day
from asfound.weigh.dates.history import Link

EVENTS, LINKS = "events.csv", "event_links.csv"
UNITS = ("day", "month", "year")


def history_faults(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """Windows and distances that nothing can satisfy; unreadable cells are told where they are."""
    for row in sheets.get("events", Sheet(columns=())):
        yield from _empty_window(row)
        yield from standing_faults([row], file=EVENTS)
    for row in sheets.get("event_links", Sheet(columns=())):
        yield from _link_faults(row)
        yield from standing_faults([row], file=LINKS)


def unreadable(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """Cells and names of rows that were kept before the rules were."""
    events = sheets.get("events", Sheet(columns=()))
    for row in events:
        for column in ("not_before", "not_after"):
            if row.text(column) and not _readable(edtf_days, row.text(column)):
                yield cell_fault(
                    EVENTS,
                    row,
                    column,
                    "it must be a date as EDTF writes it (ISO 8601-2)",
                    "Write for example 1961, 1961-05, 1961~ (about), 1958/1963 or ../1970.",
                )
    known = {row.text("event") for row in events}
    for row in sheets.get("event_links", Sheet(columns=())):
        for column in ("from", "to"):
            if row.text(column) not in known:
                yield cell_fault(
                    LINKS,
                    row,
                    column,
                    f"{EVENTS} has no such row",
                    f"Correct the name, or add the event to {EVENTS}.",
                )


def _empty_window(row: Row) -> Iterator[Fault]:
    texts = [row.text(column) for column in ("not_before", "not_after")]
    if not all(text and _readable(edtf_days, text) for text in texts):
        return
    first, last = edtf_days(texts[0])[0], edtf_days(texts[1])[1]
    if first is not None and last is not None and first > last:
        yield cell_fault(
            EVENTS,
            row,
            "not_before",
            f"it must not be later than not_after, {texts[1]!r}, which ends on {iso_day(last)}",
            "Correct one of the two, or leave one empty. If two sources differ, make two events "
            "of them and tie them by a link of 0 days, so that the clash can be named.",
        )


def _link_faults(row: Row) -> Iterator[Fault]:
    if row.text("from") and row.text("from") == row.text("to"):
        yield cell_fault(
            LINKS,
            row,
            "to",
            "it must be another event than the one in from",
            "Name the two events that the statement ties.",
        )
    amounts = [row.text(column) for column in ("min", "max")]
    if row.text("unit") not in UNITS or not all(_readable(float, a) for a in amounts if a):
        return
    steps: list[Step] = []
    for column, step_of in (("min", at_least), ("max", at_most)):
        if row.text(column):
            try:
                steps.append(step_of(row.number(column), unit=row.text("unit")))  # type: ignore[arg-type]  # one of UNITS
            except InputError as error:
                yield cell_fault(LINKS, row, column, f"it must be {error.allowed}", error.remedy)
    if len(steps) == 2 and not _can_hold(row, *steps):
        yield cell_fault(
            LINKS,
            row,
            "min",
            f"it must not be more than max, {row.text('max')!r}, counted in whole days",
            "Swap the two, or leave one empty for “no bound”.",
        )


def _can_hold(row: Row, least: Step, most: Step) -> bool:
    if row.number("min") > row.number("max"):
        return False
    try:
        Link(link="link", start="from", end="to", least=least, most=most)
    except InputError:
        return False
    return True


def _readable(read: Callable[[str], object], text: str) -> bool:
    try:
        read(text)
    except ValueError:
        return False
    return True
