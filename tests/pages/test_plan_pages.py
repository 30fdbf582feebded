"""The plan's pages: made, told what stands in the way, not shown to owners."""

from __future__ import annotations

import csv
import json

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast

from asfound.record.actions import add_observations, lock_option, set_sheet, sheet_rows
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car

TASKS = [
    {
        "task": name,
        "name": f"Job {name}",
        "trade": trade,
        "hours_low": "3",
        "hours_likely": hours,
        "hours_high": "30",
        "bay": bay,
        "earliest": "2026-03-02",
    }
    for name, trade, hours, bay in (
        ("strip", "panel", "6", "bench"),
        ("paint", "paint", "10", "booth"),
        ("hang", "panel", "4", ""),
    )
]
LINKS = [
    {"before": "strip", "after": "paint"},
    {"before": "paint", "after": "hang", "lag_hours": "24"},
]
PEOPLE = [
    {"person": "Ann Rook", "trades": "panel", "hours_per_day": "8"},
    {"person": "Bo Linnet", "trades": "paint", "hours_per_day": "6"},
]
JOINTS = [
    {"part": "heater", "comes_off_after": "dash", "way": "inside"},
    {"part": "heater", "comes_off_after": "trim", "way": "below"},
]


def at(cast: Cast, name: str, query: str = "") -> str:
    return reverse(name, args=(cast.car.slug,)) + query


def picture_of(cast: Cast, form: str) -> str:
    return reverse("plan-picture", args=(cast.car.slug, form))


@pytest.fixture
def written(cast: Cast) -> Cast:
    for table, rows in (("tasks", TASKS), ("task_links", LINKS), ("people", PEOPLE)):
        set_sheet(car=cast.car, table=table, rows=rows, by=None)
    return cast


def test_a_car_without_tasks_says_how_to_begin(cast: Cast) -> None:
    page = cast.craft.get(at(cast, "plan")).content.decode()
    assert "No task is written down yet" in page
    assert "hx-get" not in page


def test_the_page_answers_at_once_and_the_plan_follows(written: Cast) -> None:
    page = written.craft.get(at(written, "plan", "?start=2026-03-09")).content.decode()
    assert f'hx-get="{at(written, "plan-made")}?start=2026-03-09&amp;by=person"' in page
    made = written.craft.get(at(written, "plan-made", "?start=2026-03-09")).content.decode()
    assert "Mon 9 Mar 08:00" in made
    assert "no plan can be shorter" in made
    assert made.count("<svg") == 2
    assert "Bo Linnet" in made
    whole = written.craft.get(at(written, "plan", "?whole=1&of=paint&by=task")).content.decode()
    assert "what paint waits for" in whole
    assert "Tue 3 Mar 08:00" in whole


def test_a_day_that_is_none_is_asked_back(written: Cast) -> None:
    page = written.craft.get(at(written, "plan", "?start=soon")).content.decode()
    assert "“soon” is no day" in page


def test_what_stands_against_a_plan_is_told(written: Cast) -> None:
    set_sheet(car=written.car, table="people", rows=PEOPLE[:1], by=None)
    made = written.craft.get(at(written, "plan-made")).content.decode()
    assert "There can be no plan yet" in made
    assert "Nobody in people.csv has the trade that paint needs" in made
    assert written.craft.get(at(written, "plan-json")).status_code == 404


def test_due_days_that_clash_are_told(written: Cast) -> None:
    rows = [{**row, "due": "2026-03-03" if row["task"] == "hang" else ""} for row in TASKS]
    set_sheet(car=written.car, table="tasks", rows=rows, by=None)
    made = written.craft.get(at(written, "plan-made")).content.decode()
    assert "There is no plan" in made
    assert "Hang is due" in made
    told = json.loads(written.craft.get(at(written, "plan-json")).content)
    assert told["days"] is None
    assert written.craft.get(picture_of(written, "svg")).status_code == 404


def test_result_and_picture_are_given_away(written: Cast) -> None:
    told = json.loads(written.craft.get(at(written, "plan-json")).content)
    assert [t["task"] for t in told["tasks"]] == ["strip", "paint", "hang"]
    for form, first in {"png": b"\x89PNG", "pdf": b"%PDF"}.items():
        assert written.craft.get(picture_of(written, form)).content.startswith(first)
    picture = written.craft.get(picture_of(written, "svg") + "?by=bay")
    assert picture["Content-Type"] == "image/svg+xml"
    assert b"booth" in picture.content
    assert b"var(--" not in picture.content


def test_the_curve_of_the_promise_is_given_away(written: Cast) -> None:
    """Its table rises from 0 to 1 and has at 80 % the day that the result promises."""
    promised = json.loads(written.craft.get(at(written, "plan-json")).content)["promise"]["p80"]
    starts = {"svg": b"<svg", "png": b"\x89PNG", "csv": b"chance,finished_by\n0,"}
    for form, first in starts.items():
        address = reverse("plan-curve", args=(written.car.slug, form))
        assert address in written.craft.get(at(written, "plan-made")).content.decode()
        answer = written.craft.get(address)
        assert answer.content.startswith(first)
        assert b"var(--" not in answer.content
        assert written.owner.get(address).status_code == 403
    rows = list(csv.DictReader(answer.content.decode().splitlines()))
    assert [float(row["chance"]) for row in rows] == pytest.approx([n / 100 for n in range(101)])
    times = [row["finished_by"] for row in rows]
    assert times == sorted(times)
    assert times[80].startswith(promised)


def test_the_way_to_a_piece_and_the_whole_order(written: Cast) -> None:
    assert (
        "No joint is written down yet" in written.craft.get(at(written, "strip")).content.decode()
    )
    set_sheet(car=written.car, table="joints", rows=JOINTS, by=None)
    rows = [{"part": "dash", "fragile": "5"}, {"part": "trim", "people": "2"}]
    set_sheet(car=written.car, table="removals", rows=rows, by=None)
    page = written.craft.get(at(written, "strip", "?to=heater")).content.decode()
    assert "To reach heater" in page
    order = page.split('class="strip-list"')[1].split("</ol>")[0]
    assert "trim" in order
    assert "2 people" in order
    assert "dash" not in order
    assert "Comes off in this order" in written.craft.get(at(written, "strip")).content.decode()
    drawn = reverse("strip-picture", args=(written.car.slug, "svg"))
    picture = written.craft.get(f"{drawn}?to=heater")
    assert b"<svg" in picture.content
    ring = [*JOINTS, {"part": "dash", "comes_off_after": "heater"}]
    set_sheet(car=written.car, table="joints", rows=[ring[0], ring[2]], by=None)
    assert "wait for each other" in written.craft.get(at(written, "strip")).content.decode()


def choose_one_with_work(cast: Cast) -> str:
    """Subject of an option that takes hours and is now signed by the head."""
    rows = folder_of(cast.car).sheet("options")
    option = next(
        r for r in rows if any(c.startswith("hours_") and r.number(c, default=0) for c in r.cells)
    )
    lock_option(
        car=cast.car,
        subject=option.text("subject"),
        option=option.text("option"),
        reason="the owner agreed",
        by=cast.head_person.user,
    )
    return option.text("subject")


def test_tasks_are_made_from_signed_decisions_and_none_is_changed(written: Cast) -> None:
    answer = written.craft.post(at(written, "make-tasks"), follow=True)
    assert "No decision is signed" in answer.content.decode()
    locked = choose_one_with_work(written)
    answer = written.craft.post(at(written, "make-tasks"), follow=True)
    assert "added." in answer.content.decode()
    rows = sheet_rows(Car.objects.get(), "tasks")
    assert [r["task"] for r in rows[:3]] == ["strip", "paint", "hang"]
    assert any(r["subject"] == locked for r in rows[3:])
    assert written.owner.post(at(written, "make-tasks")).status_code == 403


def test_a_ring_of_joints_is_named_and_the_other_tasks_are_made(written: Cast) -> None:
    locked = choose_one_with_work(written)
    rows = [
        {"part": "lid", "comes_off_after": "hinge"},
        {"part": "hinge", "comes_off_after": "lid"},
    ]
    set_sheet(car=written.car, table="joints", rows=rows, by=None)
    page = written.craft.post(at(written, "make-tasks"), follow=True).content.decode()
    assert "These pieces wait for each other: lid → hinge → lid (rows 1, 2)" in page
    assert "Doubt row 2 first" in page
    assert any(r["subject"] == locked for r in sheet_rows(Car.objects.get(), "tasks"))


@pytest.mark.parametrize("name", ["plan", "plan-made", "plan-json", "strip"])
def test_it_is_the_workshop_s_alone(written: Cast, name: str) -> None:
    assert written.owner.get(at(written, name)).status_code == 403
    assert written.owner.get(picture_of(written, "png")).status_code == 403
    assert written.stranger.get(at(written, name)).status_code == 404
    assert written.nobody.get(at(written, name)).status_code == 302


def finish_twice_as_long(car: Car, *, task: str = "strip") -> None:
    """``strip`` is thought to take (3 + 4 · 6 + 30)/6 = 9.5 h and took 20."""
    who = {"task": task, "subject": "car", "person": "Ann Rook"}
    for day, done in (("02", ""), ("03", "yes")):
        times = {"from_at": f"2026-03-{day}T08:00:00Z", "to_at": f"2026-03-{day}T18:00:00Z"}
        add_observations(car=car, table="worked", rows=[{**who, **times, "done": done}], by=None)


def test_finished_work_is_learned_from_unless_the_box_is_ticked(written: Cast) -> None:
    finish_twice_as_long(written.car)
    made = written.craft.get(at(written, "plan-made")).content.decode()
    assert "Hours as finished work lets expect" in made
    assert "on 1 job of the panel" in made
    assert "One further job of the panel" in made
    plain = written.craft.get(at(written, "plan-made", "?past=no")).content.decode()
    assert "Hours as finished work lets expect" not in plain
    page = written.craft.get(at(written, "plan", "?past=no")).content.decode()
    assert 'name="past" value="no" checked' in page
    learned, as_written = (
        json.loads(written.craft.get(at(written, "plan-json", query)).content)
        for query in ("", "?past=no")
    )
    assert [one["trade"] for one in learned["past"]] == ["panel"]
    assert "past" not in as_written
    assert learned["promise"]["p95"] > as_written["promise"]["p95"]
