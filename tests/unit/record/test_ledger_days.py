"""The ledger over time, worked out by hand."""

from __future__ import annotations

from datetime import date

import pytest

from asfound.dossier.figures import ledger_line_svg
from asfound.record.convert.ledger_days import Finished, Signed, finished_of, ledger_days
from asfound.record.convert.ledger_steps import ledger_steps
from asfound.record.folder import CarFolder, Sheet
from asfound.record.results.ledger_days import ledger_days_sheet
from asfound.weigh.ledger import Decided, Piece


def piece(name: str, state: str, amount: float) -> Piece:
    decided = Decided(state=state, because="made up")  # type: ignore[arg-type]
    return Piece(name=name, decided=decided, amount=amount)


PIECES = (piece("Wing", "O", 5.0), piece("door", "O", 3.0), piece("seat", "U", 2.0))
TAKEN_IN = date(2026, 1, 5)
SIGNED = (
    Signed(day=date(2026, 3, 1), words="order 2", kept={"wing": 0.8}),
    Signed(day=date(2026, 2, 1), words="proposal 1", kept={"wing": 0.4, "door": 1.0, "seat": 0.5}),
)
FINISHED = (
    Finished(day=date(2026, 4, 9), piece="door", kept=0.9),
    Finished(day=date(2026, 3, 1), piece="wing", kept=0.7),
)


def test_each_day_takes_what_was_signed_and_finished_by_then() -> None:
    days = ledger_days(PIECES, taken_in=TAKEN_IN, signed=SIGNED, finished=FINISHED)
    assert [(f"{day.day}", day.events) for day in days] == [
        ("2026-01-05", ("as found",)),
        ("2026-02-01", ("signed: proposal 1",)),
        ("2026-03-01", ("signed: order 2", "finished: wing")),
        ("2026-04-09", ("finished: door",)),
    ]
    # Of 10: 5 + 3 are original. Wing left at 0.7: 3.5 + 3; then the door at 0.9: 3.5 + 2.7.
    assert [day.left.original for day in days] == pytest.approx([0.8, 0.8, 0.65, 0.62])
    # Signed: 5 · 0.4 + 3 = 5; the order leaves the door as the proposal has it: 5 · 0.8 + 3 = 7.
    assert days[0].signed is None
    assert [d.signed.original for d in days[1:] if d.signed] == pytest.approx([0.5, 0.7, 0.7])
    # The seat of 2 is not known; the proposal keeps half of it, and no work touched it.
    assert [d.signed.not_known for d in days[1:] if d.signed] == pytest.approx([0.1] * 3)
    assert [day.left.not_known for day in days] == pytest.approx([0.2] * 4)


def test_the_first_and_the_last_day_agree_with_the_three_steps() -> None:
    days = ledger_days(PIECES, taken_in=TAKEN_IN, signed=SIGNED, finished=FINISHED)
    steps = ledger_steps(
        PIECES,
        decided={"wing": 0.8, "door": 1.0, "seat": 0.5},
        left={"wing": 0.7, "door": 0.9},
    )
    assert days[0].left == steps.found
    assert (days[-1].signed, days[-1].left) == (steps.decided, steps.left)


def test_work_dated_before_the_record_begins_starts_the_line() -> None:
    late = date(2026, 6, 1)
    days = ledger_days(PIECES, taken_in=late, finished=FINISHED)
    assert [f"{day.day}" for day in days] == ["2026-03-01", "2026-03-01", "2026-04-09"]
    assert [day.left.original for day in days] == pytest.approx([0.8, 0.65, 0.62])


def test_without_any_event_there_is_the_day_of_as_found_alone() -> None:
    (only,) = ledger_days(PIECES, taken_in=TAKEN_IN)
    assert (only.day, only.left.original, only.signed) == (TAKEN_IN, 0.8, None)


def test_a_month_counts_from_its_last_day_and_no_day_is_left_out() -> None:
    rows = (("door", "2026-02", "0.9"), ("wing", "2026-03-01", "0.5"), ("seat", "soon", "1"))
    sheet = Sheet(columns=("subject", "done_on", "kept"), rows=rows)
    assert finished_of(CarFolder(sheets={"as_left": sheet})) == (
        Finished(day=date(2026, 2, 28), piece="door", kept=0.9),
        Finished(day=date(2026, 3, 1), piece="wing", kept=0.5),
    )


def test_the_table_has_every_day_and_leaves_unsigned_empty() -> None:
    days = ledger_days(PIECES, taken_in=TAKEN_IN, signed=SIGNED, finished=FINISHED)
    rows = ledger_days_sheet({"by part": days}).rows
    assert rows[0] == ("by part", "2026-01-05", "as found", "", "", "0.800000", "0.200000")
    assert rows[2][2:4] == ("signed: order 2; finished: wing", "0.700000")
    assert len(rows) == 4


def test_the_line_steps_down_only_on_its_days() -> None:
    days = ledger_days(PIECES, taken_in=TAKEN_IN, finished=FINISHED)
    # From 46 to 404 over 94 days, 55 of them to 1 March; 100 % at 34 and 0 % at 206.
    wing, bottom = 46 + 358 * 55 / 94, 206 - 172 * 0.62
    drawn = ledger_line_svg(days)
    assert f"M46 68.4H{wing:.1f}V94.2H404V{bottom:.1f}" in drawn
    assert drawn.count("<circle") == 4  # three days and the key
