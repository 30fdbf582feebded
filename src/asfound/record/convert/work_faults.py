"""What is wrong with tasks, their links and people, whatever the day the plan begins."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from asfound.plan.order import followers, ring
from asfound.record.convert.cell_fault import cell_fault
from asfound.record.convert.weekdays import absences, weekdays
from asfound.record.faults import Fault
from asfound.record.folder import Row, Sheet

_POINTS = ("hours_low", "hours_likely", "hours_high")
MOST_HOURS = 20_000
"""Some ten years of one person's work: what is more is a slip, and no task."""
NONE = Sheet(columns=())


def work_faults(sheets: Mapping[str, Sheet]) -> list[Fault]:
    """Faults of ``tasks``, ``task_links``, ``people`` and ``bays`` as they stand."""
    return [
        *_hours_out_of_order(sheets.get("tasks", NONE)),
        *_hours_beyond_reason(sheets.get("tasks", NONE)),
        *_rings(sheets.get("tasks", NONE), sheets.get("task_links", NONE)),
        *_people_not_read(sheets.get("people", NONE)),
        *_spans_not_read(sheets.get("bays", NONE), "bays.csv", "closed"),
        *_spans_not_read(sheets.get("closed_days", NONE), "closed_days.csv", "days"),
    ]


def _hours_beyond_reason(tasks: Sheet) -> Iterator[Fault]:
    for row in tasks:
        try:
            most = float(row.text("hours_high"))
        except ValueError:
            continue  # the cell's own fault is already told
        if most > MOST_HOURS:
            yield cell_fault(
                "tasks.csv",
                row,
                "hours_high",
                f"a task takes {MOST_HOURS:,} h at most",
                "Correct the number, or make several tasks of it.",
            )


def _hours_out_of_order(tasks: Sheet) -> Iterator[Fault]:
    for row in tasks:
        try:
            low, likely, high = (float(row.text(point)) for point in _POINTS)
        except ValueError:
            continue  # the cell's own fault is already told
        if not low <= likely <= high:
            yield Fault(
                file="tasks.csv",
                row=row.number_in_file,
                column=" and ".join(_POINTS),
                value=", ".join(row.text(point) for point in _POINTS),
                rule=f"the hours of {row.text('task')} must not fall from low to likely to high",
                remedy="Put the three hours into rising order; where there is no doubt they are "
                "equal.",
            )


def _rings(tasks: Sheet, links: Sheet) -> Iterator[Fault]:
    """One ring at a time: whoever opens it may see the next."""
    names = {row.text("task") for row in tasks}
    known = [r for r in links if r.text("before") in names and r.text("after") in names]
    after = followers(sorted(names), ((r.text("before"), r.text("after")) for r in known))
    turning = ring(after)
    if not turning:
        return
    closing = (turning[-1], turning[0])
    row = next(r for r in known if (r.text("before"), r.text("after")) == closing)
    yield Fault(
        file="task_links.csv",
        row=row.number_in_file,
        column="before and after",
        value=", ".join(closing),
        rule=f"this closes a ring in which each task waits for the one before it: "
        f"{' → '.join([*turning, turning[0]])}",
        remedy="Take out one link of the ring.",
    )


def _people_not_read(people: Iterable[Row]) -> Iterator[Fault]:
    for row in people:
        if weekdays(row.text("days")) is None:
            yield cell_fault(
                "people.csv",
                row,
                "days",
                f"the working days of {row.text('person')} cannot be read",
                "Write for example Mon–Fri, or Mon;Wed;Fri.",
            )
        if _refused(absences, row.text("away")):
            yield cell_fault(
                "people.csv",
                row,
                "away",
                "each absence must be a day or an interval as EDTF writes it, its end not before "
                "its beginning, with ; between several",
                "Write for example 2024-05-06/2024-05-10; 2024-06-03.",
            )


def _spans_not_read(sheet: Iterable[Row], file: str, column: str) -> Iterator[Fault]:
    for row in sheet:
        if _refused(absences, row.text(column)):
            yield cell_fault(
                file,
                row,
                column,
                "each time in which a place is closed must be a day or an interval as EDTF writes "
                "it, its end not before its beginning, with ; between several",
                "Write for example 2024-05-06/2024-05-10; 2024-06-03.",
            )


def _refused(read: Callable[[str], Any], text: str) -> bool:
    try:
        read(text)
    except ValueError:
        return True
    return False
