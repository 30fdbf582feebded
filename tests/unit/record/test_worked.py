"""Work at tasks: hours counted, one thing at a time, nothing overwritten, back from the folder."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from tests.pages.small_car import small_car

from asfound.base import InputError
from asfound.exchange import read_folder, write_folder
from asfound.record.actions import (
    add_observations,
    create_account,
    load_car,
    lock_option,
    set_sheet,
    withdraw_observation,
)
from asfound.record.actions.worked import finish_task, start_work, stop_work
from asfound.record.convert.cards import cards_of, person_called
from asfound.record.convert.stored import folder_of
from asfound.record.convert.worked import TaskWork, moment, work_by_task
from asfound.record.models import Car, Entry, Observation

TASKS = [
    {
        "task": name,
        "name": words,
        "trade": trade,
        "hours_low": "1",
        "hours_likely": "2",
        "hours_high": "4",
        "subject": subject,
    }
    for name, words, trade, subject in (
        ("S1", "Re-sew the seats", "trimmer", "seats"),
        ("B1", "Overhaul the brakes", "mechanic", "brakes"),
        ("T1", "Try the car", "mechanic", ""),
    )
]
PEOPLE = [
    {"person": "Issy Corrand", "trades": "trimmer", "hours_per_day": "6"},
    {"person": "Bram Ostler", "trades": "mechanic", "hours_per_day": "8"},
    {"person": "Bram Tolk", "trades": "painter;mechanic", "hours_per_day": "8"},
]
EIGHT = datetime(2026, 11, 25, 8, 0, tzinfo=UTC)
SEWING = {"task": "S1", "subject": "seats", "person": "Issy Corrand"}
BRAKES = {"task": "B1", "subject": "brakes", "person": "Issy Corrand"}


@pytest.fixture
def car(db: None) -> Car:
    car = load_car(folder=small_car(), by=None, open_file=lambda kept: None)  # type: ignore[arg-type,return-value]
    set_sheet(car=car, table="tasks", rows=TASKS, by=None)
    set_sheet(car=car, table="task_links", rows=[{"before": "S1", "after": "T1"}], by=None)
    set_sheet(car=car, table="people", rows=PEOPLE, by=None)
    return car


def after(hours: float) -> datetime:
    return EIGHT + timedelta(hours=hours)


def told(car: Car, now: datetime) -> dict[str, TaskWork]:
    return work_by_task(folder_of(Car.objects.get(pk=car.pk)), now)


def worked(car: Car, now: datetime) -> dict[str, float]:
    return {task: work.hours for task, work in told(car, now).items()}


def test_hours_are_those_between_beginning_and_end_and_pauses_do_not_count(car: Car) -> None:
    first = start_work(car=car, cells=SEWING, by=None, at=EIGHT)
    assert first is not None
    stop_work(stretch=first, done=False, by=None, at=after(1.5))
    start_work(car=car, cells=SEWING, by=None, at=after(2))
    assert worked(car, after(2.25)) == {"S1": pytest.approx(1.75)}
    finish_task(car=car, cells=SEWING, by=None, at=after(3))
    assert worked(car, after(50)) == {"S1": pytest.approx(2.5)}
    assert told(car, after(50))["S1"].done


def test_a_person_is_at_one_task_at_a_time_and_the_other_is_paused(car: Car) -> None:
    start_work(car=car, cells=SEWING, by=None, at=EIGHT)
    start_work(car=car, cells=BRAKES, by=None, at=after(1))
    work = told(car, after(2))
    assert (work["S1"].hours, work["S1"].running) == (pytest.approx(1), ())
    assert (work["B1"].hours, work["B1"].running) == (pytest.approx(1), ("Issy Corrand",))


def test_the_same_sent_twice_is_one_stretch(car: Car) -> None:
    assert start_work(car=car, cells=SEWING, by=None, at=EIGHT, key="k1") is not None
    assert start_work(car=car, cells=SEWING, by=None, at=after(0.1), key="k1") is None
    assert start_work(car=car, cells=SEWING, by=None, at=after(0.2), key="k2") is None
    assert car.observations.current().filter(table="worked").count() == 1


def test_what_is_done_is_not_begun_or_finished_again(car: Car) -> None:
    finish_task(car=car, cells=SEWING, by=None, at=EIGHT)
    with pytest.raises(InputError, match="done"):
        start_work(car=car, cells=SEWING, by=None, at=after(1))
    with pytest.raises(InputError, match="done"):
        finish_task(car=car, cells=SEWING, by=None, at=after(1))


def test_every_stretch_stays_with_its_lines_in_the_log(car: Car) -> None:
    first = start_work(car=car, cells=SEWING, by=None, at=EIGHT)
    assert first is not None
    ended = stop_work(stretch=first, done=False, by=None, at=after(1))
    with pytest.raises(InputError):
        stop_work(stretch=ended, done=True, by=None, at=after(2))
    withdraw_observation(observation=ended, reason="begun on the wrong card", by=None)
    assert Observation.objects.filter(car=car, table="worked").count() == 2
    assert worked(car, after(5)) == {}
    assert Entry.objects.filter(car=car, action__endswith="time worked").count() == 3


def test_an_owner_writes_no_time(car: Car) -> None:
    owner = create_account(username="owner", role="owner", password="walnut-veneer-41", by=None)
    with pytest.raises(Exception, match="owner"):
        start_work(car=car, cells=SEWING, by=owner.user, at=EIGHT)
    assert not car.observations.filter(table="worked").exists()


def test_time_that_cannot_be_read_counts_for_nothing_and_is_told(car: Car) -> None:
    row = {**SEWING, "from_at": "in the morning", "to_at": "2026-11-25T10:00:00Z"}
    add_observations(car=car, table="worked", rows=[row], by=None)
    work = told(car, EIGHT)["S1"]
    assert (work.hours, work.unreadable_n) == (0.0, 1)
    assert moment("in the morning") is None


def test_what_was_done_comes_back_from_the_car_folder(car: Car, tmp_path: Path) -> None:
    start_work(car=car, cells={**SEWING, "cautions_read": "lead;batteries"}, by=None, at=EIGHT)
    material = {"task": "S1", "subject": "seats", "material": "thread", "batch": "not marked"}
    torque = {
        **{"task": "B1", "subject": "brakes", "kind": "torque", "value": "48", "unit": "Nm"},
        **{"least": "45", "most": "50", "tool": "wrench 3"},
    }
    add_observations(car=car, table="materials_used", rows=[material], by=None)
    add_observations(car=car, table="results", rows=[torque], by=None)
    write_folder(folder_of(car), tmp_path / "car")
    went = dict(folder_of(car).sheets)
    back = load_car(
        folder=read_folder(tmp_path / "car"),
        by=None,
        open_file=lambda kept: None,  # type: ignore[arg-type,return-value]
        replace=True,
    )
    for table in ("worked", "materials_used", "results"):
        assert went[table].rows
        assert folder_of(back).sheet(table) == went[table]


def test_a_card_says_what_to_leave_alone_and_what_to_mind(car: Car) -> None:
    lock_option(car=car, subject="seats", option="leave", reason="the owner's wish", by=None)
    lock_option(car=car, subject="brakes", option="overhaul", reason="to be safe", by=None)
    seats, brakes, trying = cards_of(folder_of(car), now=EIGHT)
    assert [(one.subject, one.near) for one in seats.spared] == [("seats", True)]
    assert not seats.photos_wanted
    assert [one.subject for one in brakes.elsewhere] == ["seats"]
    assert brakes.photos_wanted
    assert "asbestos" in [one.hazard for one in brakes.cautions]
    assert trying.waits == ("Re-sew the seats",)
    assert trying.subject == "car"


def test_people_are_known_by_their_name_or_a_first_name_of_their_own(
    car: Car,
) -> None:
    folder = folder_of(car)
    assert person_called(folder, "issy") == "Issy Corrand"
    assert person_called(folder, "bram.ostler") == "Bram Ostler"
    assert person_called(folder, "bram") == ""
    assert person_called(folder, "") == ""


def test_the_photograph_after_is_due_with_the_last_task_of_a_piece(car: Car) -> None:
    more = [*TASKS, {**TASKS[0], "task": "S2", "name": "Put the seats back"}]
    set_sheet(car=car, table="tasks", rows=more, by=None)
    last = {card.task: card.is_last for card in cards_of(folder_of(car), now=EIGHT)}
    assert last == {"S1": False, "B1": True, "T1": True, "S2": False}
    finish_task(car=car, cells=SEWING, by=None, at=EIGHT)
    now = folder_of(Car.objects.get(pk=car.pk))
    assert {card.task: card.is_last for card in cards_of(now, now=EIGHT)}["S2"]
