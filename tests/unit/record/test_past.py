"""Finished tasks as jobs, and the hours that a plan then takes."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import pytest

from asfound.plan import Hours
from asfound.record.convert.job_kind import kind_named
from asfound.record.convert.past import NO_PAST, jobs_of, past_of, past_words, with_past
from asfound.record.convert.plan import shop_question
from asfound.record.folder import CarFolder, Sheet

TASKS = (
    ("seat: off", "trimmer", "2", "4", "6", "1"),
    ("engine: off", "fitter", "5", "5", "5", "2"),
    ("sill: patch", "fitter", "3", "4", "5", "1"),
    ("hood", "trimmer", "1", "1", "1", "1"),
)
WORKED = (
    ("seat: off", "Ann", "2026-03-02T08:00:00Z", "2026-03-02T12:00:00Z", ""),
    ("seat: off", "Ann", "2026-03-03T08:00:00Z", "2026-03-03T10:00:00Z", "yes"),
    ("engine: off", "Ann", "2026-03-03T08:00:00Z", "2026-03-03T18:00:00Z", ""),
    ("engine: off", "Bob", "2026-03-03T08:00:00Z", "2026-03-03T18:00:00Z", "yes"),
    ("sill: patch", "Bob", "2026-03-04T08:00:00Z", "2026-03-04T18:00:00Z", ""),
    ("hood", "Ann", "in the morning", "2026-03-04T18:00:00Z", "yes"),
)
PEOPLE = tuple((who, "trimmer; fitter", "8", "mon-fri", "") for who in ("Ann", "Bob"))


def _car(worked: tuple[tuple[str, ...], ...] = WORKED) -> CarFolder:
    points = ("hours_low", "hours_likely", "hours_high")
    return CarFolder(
        sheets={
            "tasks": Sheet(columns=("task", "trade", *points, "people"), rows=TASKS),
            "worked": Sheet(columns=("task", "person", "from_at", "to_at", "done"), rows=worked),
            "people": Sheet(
                columns=("person", "trades", "hours_per_day", "days", "away"), rows=PEOPLE
            ),
        }
    )


def test_finished_tasks_with_readable_times_are_jobs() -> None:
    seat, engine = jobs_of(_car())
    assert (seat.trade, seat.kind, seat.estimate_h, seat.actual_h) == ("trimmer", "off", 4, 6)
    assert (engine.estimate_h, engine.actual_h) == (5, 10)


def test_a_clock_that_was_begun_late_or_never_ended_teaches_nothing() -> None:
    """4 h were thought: 24 minutes are a tenth, 40 h ten times as many."""

    def taught(minutes: int) -> list[float]:
        first = datetime(2026, 3, 2, 8, tzinfo=UTC)
        ends = (first + timedelta(minutes=minutes)).strftime("%Y-%m-%dT%H:%M:%SZ")
        row = ("seat: off", "Ann", first.strftime("%Y-%m-%dT%H:%M:%SZ"), ends, "yes")
        return [job.actual_h for job in jobs_of(_car((row,)))]

    assert [len(taught(minutes)) for minutes in (1, 23, 24, 2400, 2401)] == [0, 0, 1, 1, 0]


def test_the_kind_is_the_last_word_of_a_made_task() -> None:
    told = [kind_named(task) for task in ("left sill: patch (fabricator)", "T01", "a: b: on")]
    assert told == ["patch", "", "on"]


def test_a_kind_that_is_written_counts_before_the_name_and_leads_a_plan_to_its_jobs() -> None:
    car = _car()
    tasks = car.sheet("tasks")
    kinds = ("off", "lift", "lift", "")
    rows = tuple((*cells, kind) for cells, kind in zip(tasks.rows, kinds, strict=True))
    written = Sheet(columns=(*tasks.columns, "kind"), rows=rows)
    told = CarFolder(sheets={**car.sheets, "tasks": written})
    assert [job.kind for job in jobs_of(told)] == ["off", "lift"]
    past = past_of([told, told])
    assert past.factor("fitter", "lift").jobs_of_kind == 2
    learned = with_past(shop_question(told), past, done={"seat: off"}).problem.named
    median = past.factor("fitter", "lift").median
    assert learned["sill: patch"].hours.likely == pytest.approx(4 * median)


def test_hours_to_come_are_multiplied_and_done_ones_are_left() -> None:
    car = _car()
    question, past = shop_question(car), past_of([car, car])
    learned = with_past(question, past, done={"seat: off", "engine: off"}).problem.named
    factor = past.factor("fitter", "patch")
    assert learned["seat: off"].hours == Hours(low=2, likely=4, high=6)
    assert learned["sill: patch"].hours.likely == pytest.approx(4 * factor.median)
    assert learned["sill: patch"].doubt_log == factor.doubt_log > 0
    # Mean 4, variance (4 − 3)(5 − 4)/7: its jobs spread wider than 3 to 5 h let expect.
    three_points = math.log1p((1 / 7) / 16)
    wider = factor.job_log**2 - factor.doubt_log**2 - three_points
    assert learned["sill: patch"].own_log == pytest.approx(math.sqrt(wider))
    assert factor.median > 1
    assert "on 2 jobs of the fitter" in past_words(past)[0]


def test_trades_that_the_jobs_do_not_tell_apart_are_said_to_be_taken_together() -> None:
    """The two ratios, 1.5 and 2, differ by less than the spread assumed of one job."""
    (words,) = past_words(past_of([_car()]))
    assert "on 2 jobs of the fitter and trimmer; nothing tells the trades apart yet" in words


def test_without_finished_work_nothing_changes() -> None:
    car = _car(worked=())
    question = shop_question(car)
    assert with_past(question, past_of([car])) is question
    assert past_words(NO_PAST) == []
