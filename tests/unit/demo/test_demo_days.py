"""The demo's days: moved by whole weeks up to the run, in one line through every table."""

from __future__ import annotations

import re
from datetime import date, timedelta

import pytest

from asfound.demo import demo_folder, small_job_folder
from asfound.demo.days import MONDAY, Days
from asfound.demo.pictures import drawings
from asfound.demo.written import written, written_json


@pytest.mark.parametrize(
    ("today", "monday"),
    [
        (date(2026, 11, 30), date(2026, 11, 30)),
        (date(2026, 12, 4), date(2026, 11, 30)),
        (date(2026, 12, 5), date(2026, 12, 7)),
        (date(2026, 12, 6), date(2026, 12, 7)),
    ],
)
def test_the_demo_begins_on_the_monday_of_the_run_or_the_one_after_the_weekend(
    today: date, monday: date
) -> None:
    assert Days.up_to(today).day(MONDAY) == monday


def test_nothing_was_done_after_the_week_before_the_run() -> None:
    today = date(2026, 12, 2)
    for car in (demo_folder(days=Days.up_to(today)), small_job_folder(days=Days.up_to(today))):
        for table in ("worked", "findings", "results", "materials_used", "film"):
            for row in car.sheet(table):
                days = re.findall(r"20\d\d-\d\d-\d\d", " ".join(row.cells.values()))
                assert all("2026-10" < day < "2026-11-30" for day in days), (table, row.cells)


def test_every_day_of_the_work_moves_and_none_of_the_past() -> None:
    days = Days(moved_by=timedelta(weeks=400))
    moved, still = demo_folder(days=days), demo_folder()
    for table, rows in moved.sheets.items():
        cells = [cell for row in rows.rows for cell in row]
        assert not [cell for cell in cells if re.search(r"\b202[1-5]-\d\d-\d\d", cell)], table
    past = [row.text("not_before") for row in still.sheet("events") if row.text("event") != "found"]
    assert past == [
        row.text("not_before") for row in moved.sheet("events") if row.text("event") != "found"
    ]


def test_what_is_signed_was_found_before_and_is_worked_after() -> None:
    sent = written_json("proposals")["sent"]
    first, order, open_one = sent
    found = [row["found_on"] for row in written("findings") if row["kind"] == "metal thin"]
    begun = [row["from_at"] for row in written("worked") if row["subject"] == "carpet"]
    times = [max(found), order["sent_at"], order["signed_at"], open_one["sent_at"]]
    assert times == sorted(times)
    assert first["sent_at"] < first["signed_at"] < min(begun)
    assert all(one.taken.replace(":", "-", 2) < MONDAY.isoformat() for one in drawings())
