"""The plan of one car while a worker looks for it: how far it is, stopped, searched to the end."""

from __future__ import annotations

import json
import os
import random
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from django.urls import reverse
from django_tasks_db.models import DBTaskResult
from tests.pages.conftest import Cast

from asfound.base import StoppedError
from asfound.plan import Plan, Promise
from asfound.plan import plan as plan_work
from asfound.plan import promise as promise_day
from asfound.record.actions import set_sheet, sheet_rows
from asfound.record.background import stop
from asfound.record.background.worker import LOOK_S, StoppableWorker
from asfound.record.derived import plan_key
from asfound.record.models import Car
from asfound.record.reads.workshop import planning_folder

FRAGMENT = {"HX-Request": "true"}
PEOPLE = [
    {"person": "Ann Rook", "trades": "panel", "hours_per_day": "8"},
    {"person": "Bo Linnet", "trades": "paint", "hours_per_day": "6"},
    {"person": "Cy Dunnock", "trades": "panel", "hours_per_day": "6"},
]


@pytest.fixture
def hard(cast: Cast) -> Cast:
    """A car whose first greedy plan is not the shortest, and not proved to be."""
    draw, tasks = random.Random(3), []
    for n in range(16):
        row = {"task": f"t{n}", "name": f"Job {n}", "earliest": "2026-03-02"}
        row |= dict.fromkeys(("hours_low", "hours_likely", "hours_high"), str(draw.randint(2, 9)))
        row["trade"] = draw.choice(["panel", "paint"])
        tasks.append({**row, "bay": "booth" if draw.random() < 0.6 else ""})
    links = [{"before": f"t{draw.randrange(n)}", "after": f"t{n}"} for n in range(3, 16)]
    bays = [{"bay": "booth", "count": "2"}]
    told = {"tasks": tasks, "task_links": links, "people": PEOPLE, "bays": bays}
    for table, rows in told.items():
        set_sheet(car=cast.car, table=table, rows=rows, by=None)
    return cast


def key_of(cast: Cast) -> str:
    return plan_key(planning_folder(Car.objects.get(pk=cast.car.pk)))


def ask(cast: Cast, step: str = "", who: str = "craft") -> str:
    address, asks = reverse("plan-made", args=(cast.car.slug,)), getattr(cast, who)
    if step:
        return asks.post(address, {"step": step}, headers=FRAGMENT).content.decode()
    return asks.get(address, headers=FRAGMENT).content.decode()


@pytest.fixture
def pressed(hard: Cast, monkeypatch: pytest.MonkeyPatch) -> Cast:
    """Somebody presses Stop as soon as the search begins, and once only."""
    left = [True]

    def press(*given: Any, progress: Callable[[float], None], **named: Any) -> Plan:
        def told(done: float) -> None:
            if left and left.pop():
                progress(done)  # the work is told of before anybody can press
                stop(key_of(hard))
            progress(done)

        return plan_work(*given, progress=told, **named)

    monkeypatch.setattr("asfound.record.derived.plan.plan_work", press)
    return hard


def work_off(worker: StoppableWorker) -> None:
    (asked,) = DBTaskResult.objects.all()
    worker.take(asked)


def days(page: str) -> float:
    return float(page.split(" working days from", maxsplit=1)[0].rsplit(" ", 1)[1])


def test_stopped_it_is_the_best_so_far_with_its_bound_and_is_searched_to_the_end(
    pressed: Cast, worker: StoppableWorker
) -> None:
    assert "Looking for the shortest plan" in ask(pressed)
    work_off(worker)
    page = ask(pressed)
    assert "none can be shorter than" in page
    assert "the best that was found until the search was stopped" in page
    told = pressed.craft.get(reverse("plan-json", args=(pressed.car.slug,))).content
    assert json.loads(told)["stopped"] is True
    assert not DBTaskResult.objects.exists()
    assert "Looking for the shortest plan" in ask(pressed, step="on")
    work_off(worker)
    whole = ask(pressed)
    assert "no plan can be shorter" in whole
    assert "stopped" not in whole
    assert days(whole) < days(page)


@pytest.mark.parametrize("gives_up", [False, True])
def test_searched_on_a_plan_is_kept_until_there_is_a_better_one(
    pressed: Cast, worker: StoppableWorker, monkeypatch: pytest.MonkeyPatch, *, gives_up: bool
) -> None:
    ask(pressed)
    work_off(worker)
    so_far = days(ask(pressed))

    def worse(*given: Any, **named: Any) -> Plan:
        if gives_up:
            raise StoppedError
        found = plan_work(*given, **named)
        placed = tuple(replace(p, end_min=p.end_min + 9000) for p in found.placed)
        finish = found.finish_min + 9000
        return replace(found, placed=placed, finish_min=finish, days=found.days + 6)

    monkeypatch.setattr("asfound.record.derived.plan.plan_work", worse)
    assert "Looking for the shortest plan" in ask(pressed, step="on")
    work_off(worker)
    whole = ask(pressed)
    assert days(whole) == so_far
    assert ("until the search was stopped" in whole) is gives_up


def test_a_worker_waits_for_the_best_so_far(
    pressed: Cast, worker: StoppableWorker, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The promise of what was found may take longer than work has to hear a stop."""
    ended, said = list[int](), list[str]()

    def slow(*given: Any, **named: Any) -> Promise:
        said.append(ask(pressed))
        time.sleep(2 * LOOK_S)
        return promise_day(*given, **named)

    monkeypatch.setattr("asfound.record.background.worker.STOP_S", 0.01)
    monkeypatch.setattr(os, "_exit", ended.append)
    monkeypatch.setattr("asfound.record.derived.plan.promise_day", slow)
    ask(pressed)
    work_off(worker)
    assert not ended
    assert "the best so far is made ready" in said[0]
    assert "Stop</button>" not in said[0]
    assert "best that was found until" in ask(pressed)


def test_stopped_before_any_plan_meets_the_due_days_nothing_is_kept(
    pressed: Cast, worker: StoppableWorker
) -> None:
    rows = sheet_rows(pressed.car, "tasks")
    rows = [{**row, "due": "2026-03-04" if row["task"] == "t15" else ""} for row in rows]
    set_sheet(car=pressed.car, table="tasks", rows=rows, by=None)
    ask(pressed)
    work_off(worker)
    page = ask(pressed)
    assert "Stopped; nothing was kept." in page
    assert "Try again" in page
    ask(pressed, step="begin")
    work_off(worker)
    assert "There is no plan" in ask(pressed)


def test_how_far_it_is_is_told(
    hard: Cast, worker: StoppableWorker, monkeypatch: pytest.MonkeyPatch
) -> None:
    said = list[str]()

    def look(*given: Any, progress: Callable[[float], None], **named: Any) -> Plan:
        progress(0.5)
        said.append(ask(hard))
        return plan_work(*given, progress=progress, **named)

    monkeypatch.setattr("asfound.record.derived.plan.plan_work", look)
    ask(hard)
    work_off(worker)
    assert '<progress max="1" value="0.45"' in said[0]
    assert "Stop</button>" in said[0]


def test_one_without_scripts_is_led_back_to_the_page_and_an_owner_stops_nothing(
    hard: Cast, worker: StoppableWorker
) -> None:
    address = reverse("plan-made", args=(hard.car.slug,))
    answer = hard.craft.post(f"{address}?start=2026-03-09", {"step": "on"})
    assert answer["Location"].startswith(reverse("plan", args=(hard.car.slug,)) + "?start=2026")
    ask(hard)
    assert hard.owner.post(address, {"step": "stop"}, headers=FRAGMENT).status_code == 403
    assert DBTaskResult.objects.count() == 1
