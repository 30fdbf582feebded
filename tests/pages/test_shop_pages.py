"""The plan of the whole shop: made, compared, adopted, upset and made again; who may what."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pikepdf
import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from django_tasks_db.models import DBTaskResult
from tests.pages.conftest import Cast
from tests.pages.small_car import small_car
from tests.pages.test_plan_pages import LINKS, PEOPLE, TASKS, finish_twice_as_long

from asfound.desk.shop import making
from asfound.plan import Plan
from asfound.plan import plan as plan_work
from asfound.record.actions import load_car, set_sheet, sheet_rows
from asfound.record.background.worker import StoppableWorker
from asfound.record.models import Car, Entry, ShopPlan
from asfound.record.results.shop_plan import PlannedShop

BAYS = [{"bay": "bench", "count": "1"}, {"bay": "booth", "count": "1"}]


@pytest.fixture(autouse=True)
def in_little_time(monkeypatch: pytest.MonkeyPatch) -> None:
    """No worker lives: the plan is made while the request is answered, and quickly."""

    monkeypatch.setattr("asfound.record.shop_made.WORK_S", 1.0)


@pytest.fixture
def shop(cast: Cast) -> Cast:
    second = load_car(folder=small_car(), by=None, slug="second")
    today = timezone.localdate()
    monday = today + timedelta(days=7 - today.weekday())  # else the weekend of the run decides
    tasks = [{**row, "earliest": f"{monday}"} for row in TASKS]
    for car in (cast.car, second):
        for table, rows in (
            ("tasks", tasks),
            ("task_links", LINKS),
            ("people", PEOPLE),
            ("bays", BAYS),
        ):
            set_sheet(car=car, table=table, rows=rows, by=None)
    return cast


def made(client: Client) -> str:
    return client.post(reverse("shop-making"), {"step": "begin"}, follow=True).content.decode()


def adopt(client: Client, because: str = "") -> PlannedShop:
    page = client.get(reverse("shop-compare")).content.decode()
    inputs = page.split('name="inputs" value="')[1].split('"')[0]
    client.post(reverse("shop-adopt"), {"inputs": inputs, "because": because})
    return last_plan()


def last_plan() -> PlannedShop:
    last = ShopPlan.objects.first()
    assert last is not None
    return PlannedShop.from_json(last.content)


def test_two_cars_are_planned_compared_and_adopted(shop: Cast) -> None:
    assert "No plan is adopted yet" in shop.head.get(reverse("shop")).content.decode()
    assert "A new plan is ready" in made(shop.head)
    planned = adopt(shop.head, "Monday")
    assert len(planned.tasks) == 6
    assert len(planned.cars) == 2
    booth = sorted((t.start, t.end) for t in planned.tasks if t.bay == "booth")
    assert booth[0][1] <= booth[1][0]
    assert PlannedShop.from_json(planned.to_json()) == planned
    page = shop.craft.get(reverse("shop"), {"by": "car"}).content.decode()
    assert "Adopted" in page
    assert "dries until" in page
    told = Entry.objects.filter(action="adopt plan").get().after
    assert told is not None
    assert told["because"] == "Monday"


def test_a_late_plater_moves_little_and_what_it_does_is_shown_before(shop: Cast) -> None:
    made(shop.head)
    first = adopt(shop.head)
    until = first.tasks[-1].end.date() + timedelta(days=7)
    task = next(t for t in first.tasks if t.task == "hang")
    page = shop.craft.post(
        reverse("setbacks"),
        {"kind": "late", "what": "The plater", "task": f"{task.car}/hang", "until": f"{until}"},
        follow=True,
    ).content.decode()
    assert "Written down: The plater: Job hang (hang) of Orvelle Tansy KV 417 not before" in page
    assert last_plan() == first  # nothing counts before it is adopted
    page = shop.head.get(reverse("shop-compare")).content.decode()
    assert "The plater: Job hang (hang) of" in page
    assert "1 task moves" in page
    assert "not before its day: The plater" in page  # the order that governs the finish
    assert "later" in page
    again = adopt(shop.head)
    places = {t.key: t.place for t in first.tasks if t.key != task.key}
    assert {t.key: t.place for t in again.tasks if t.key != task.key} == places
    moved = again.by_key[task.key]
    assert moved.start.date() >= until
    assert (moved.sequence, again.by_key[task.car, "strip"].sequence) == (1, 0)
    old = ShopPlan.objects.last()
    assert old is not None
    page = shop.craft.get(reverse("adopted-plan", args=(old.pk,))).content.decode()
    assert "no longer counts" in page
    assert shop.craft.post(reverse("adopted-again", args=(old.pk,))).status_code == 403
    shop.head.post(reverse("adopted-again", args=(old.pk,)))
    assert [t.place for t in last_plan().tasks] == [t.place for t in first.tasks]


def test_somebody_away_and_a_bay_closed_hold_in_every_car(shop: Cast) -> None:
    first, last = (timezone.localdate() + timedelta(days=days) for days in (0, 20))
    days = {"first": f"{first}", "last": f"{last}"}
    shop.head.post(reverse("setbacks"), {"kind": "away", "name": "Bo Linnet", **days})
    shop.head.post(reverse("setbacks"), {"kind": "closed", "name": "bench", **days})
    planned = adopt(shop.head)
    assert all(
        t.start.date() > last for t in planned.tasks if "Bo Linnet" in t.people or t.bay == "bench"
    )


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"kind": "late", "what": "x", "task": "CAR/hang", "until": "2020-01-01"}, "or later"),
        ({"kind": "longer", "what": "x", "task": "CAR/hang", "hours": "-3"}, "above 0"),
        ({"kind": "longer", "what": "x", "task": "CAR/none", "hours": "3"}, "valid choice"),
        (
            {"kind": "away", "name": "Ann Rook", "first": "2030-01-01", "last": "2099-01-01"},
            "within ten years",
        ),
        (
            {"kind": "away", "name": "Ann Rook", "first": "2030-02-01", "last": "2030-01-01"},
            "later",
        ),
        ({"kind": "closed", "name": "moon", "first": "2030-01-01", "last": "2030-01-02"}, "valid"),
    ],
)
def test_a_setback_that_cannot_be_is_named_and_nothing_changes(
    shop: Cast, typed: dict[str, str], told: str
) -> None:
    before = Entry.objects.count()
    typed = {name: text.replace("CAR", shop.car.slug) for name, text in typed.items()}
    answer = shop.craft.post(reverse("setbacks"), typed)
    assert answer.status_code == 422
    assert told in answer.content.decode()
    assert Entry.objects.count() == before


def _ring(car: Car) -> None:
    set_sheet(
        car=car, table="task_links", rows=[*LINKS, {"before": "hang", "after": "strip"}], by=None
    )


def _no_trade(car: Car) -> None:
    set_sheet(car=car, table="tasks", rows=[{**TASKS[0], "trade": "glass"}], by=None)


def _due(car: Car) -> None:
    set_sheet(car=car, table="tasks", rows=[{**TASKS[0], "due": "2020-01-01"}], by=None)


def _away(car: Car) -> None:
    for one in Car.objects.all():
        rows = [{**PEOPLE[0], "away": "2020-01-01/.."}, PEOPLE[1]]
        set_sheet(car=one, table="people", rows=rows, by=None)


@pytest.mark.parametrize(
    ("spoil", "told"),
    [
        (_ring, "closes a ring"),
        (_no_trade, "Nobody in people.csv has the trade"),
        (_due, "due before"),
        (_away, "away for ever"),
    ],
)
def test_what_stands_against_a_plan_is_named_and_the_adopted_one_stands(
    shop: Cast, spoil: Callable[[Car], None], told: str
) -> None:
    made(shop.head)
    first = adopt(shop.head)
    spoil(shop.car)
    page = made(shop.head)
    assert told.lower() in page.lower()
    assert last_plan() == first


def test_priority_and_promised_day_are_kept_by_the_head(shop: Cast) -> None:
    address = reverse("shop-car", args=(shop.car.slug,))
    day = timezone.localdate() + timedelta(days=40)
    typed = {"priority": "3", "promised": f"{day}", "at_work": "on"}
    assert shop.craft.post(address, typed).status_code == 403
    shop.head.post(address, typed)
    for wrong in ({"priority": "-1"}, {"priority": "much"}, {"promised": "2020-01-01"}):
        page = shop.head.post(address, {**typed, **wrong}, follow=True).content.decode()
        assert "Nothing was kept" in page
    made(shop.head)
    car = next(c for c in adopt(shop.head).cars if c.car == shop.car.slug)
    assert (car.priority, car.promised) == (3.0, day)
    assert car.kept is not None
    assert 0 <= car.kept <= 1
    shop.head.post(address, {"priority": "1"})
    assert "needs" not in made(shop.head)
    assert {t.car for t in adopt(shop.head).tasks} != {shop.car.slug}


def test_begun_work_stays_and_done_work_is_left_out(shop: Cast) -> None:
    made(shop.head)
    first = adopt(shop.head)
    begun = first.tasks[0]
    car = Car.objects.get(slug=begun.car)
    from asfound.record.actions.worked import finish_task, start_work  # noqa: PLC0415

    who = begun.people[0]
    cells = {"task": begun.task, "subject": "car", "person": who}
    start_work(car=car, cells=cells, by=None, key="")
    made(shop.head)
    held = adopt(shop.head).by_key[begun.key]
    assert held.begun
    assert held.people == begun.people
    finish_task(car=car, cells={**cells, "no_photo": ""}, by=None)
    made(shop.head)
    assert begun.key not in adopt(shop.head).by_key


def test_cards_follow_the_adopted_plan(shop: Cast) -> None:
    made(shop.head)
    adopt(shop.head)
    shop.craft.post(reverse("work-as"), {"name": "Ann Rook"})
    page = shop.craft.get(reverse("todays-cards")).content.decode()
    assert 'index-name">Job strip' in page
    assert 'index-name">Job paint' not in page  # Bo's


def test_pictures_tables_and_result_are_given_away(shop: Cast) -> None:
    made(shop.head)
    planned = adopt(shop.head)
    starts = {"svg": b"<svg", "png": b"\x89PNG", "pdf": b"%PDF"}
    for form, first in starts.items():
        answer = shop.craft.get(reverse("shop-picture", args=(form,)), {"by": "car"})
        assert answer.content.startswith(first)
    pdf = shop.craft.get(reverse("shop-picture", args=("pdf",))).content
    with pikepdf.open(io.BytesIO(pdf)) as paper:
        assert len(paper.pages) >= 2  # all days, then each fortnight
    by_days = shop.craft.get(reverse("shop"), {"zoom": "days", "from": "2026-13-01"})
    assert "three days" in by_days.content.decode()
    assert b"var(--" not in shop.craft.get(reverse("shop-picture", args=("svg",))).content
    assert shop.craft.get(reverse("shop-csv")).content.decode().count("\n") == 7
    for form in ("svg", "png", "csv"):
        address = reverse("shop-curve", args=(shop.car.slug, form))
        assert address in shop.craft.get(reverse("shop")).content.decode()
        begin = (starts | {"csv": b"chance,finished_by"})[form]
        assert shop.craft.get(address).content.startswith(begin)
        assert shop.owner.get(address).status_code == 403
    assert shop.craft.get(reverse("shop-curve", args=("none", "svg"))).status_code == 404
    told = json.loads(shop.craft.get(reverse("shop-json")).content)
    assert PlannedShop.from_json(told) == planned
    assert shop.craft.get(reverse("shop-csv"), {"plan": "999"}).status_code == 404


def test_a_worker_makes_the_plan_and_one_asked_for_anew_is_given_up(
    shop: Cast, worker: StoppableWorker
) -> None:
    assert "Looking for a plan" in made(shop.head)
    first = DBTaskResult.objects.get()
    making.begin_anew()
    (asked,) = DBTaskResult.objects.all()
    assert asked.pk != first.pk
    worker.take(asked)
    assert "A new plan is ready" in shop.head.get(reverse("shop")).content.decode()
    assert not DBTaskResult.objects.exists()


def test_a_plan_that_is_stopped_is_the_best_so_far_and_counts_for_nobody(
    shop: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    def pressed(*given: Any, **named: Any) -> Plan:
        making.stop(making._asked())
        return plan_work(*given, **named)

    monkeypatch.setattr("asfound.record.shop_made.plan_work", pressed)
    page = made(shop.head)
    assert "A new plan is ready, the best that was found until it was stopped." in page
    assert not ShopPlan.objects.exists()


def test_one_that_is_stopped_before_a_plan_was_found_does_not_say_that_there_is_none(
    shop: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    def pressed(*given: Any, **named: Any) -> Plan:
        making.stop(making._asked())
        return plan_work(*given, **named)

    due = (timezone.localdate() + timedelta(days=1)).isoformat()
    rows = sheet_rows(shop.car, "tasks")
    rows = [{**row, "due": due if row["task"] == "hang" else ""} for row in rows]
    set_sheet(car=shop.car, table="tasks", rows=rows, by=None)
    assert "cannot end before" in made(shop.head)
    monkeypatch.setattr("asfound.record.shop_made.plan_work", pressed)
    page = made(shop.head)
    assert "Stopped; the adopted plan stands" in page
    assert "cannot end before" not in page


def test_a_plan_that_is_stopped_leaves_the_adopted_one(
    shop: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    def stopped(*, now: Any, progress: Callable[[float], None], with_past: bool) -> None:
        making.stop(making._asked())
        progress(0.5)

    monkeypatch.setattr("asfound.record.shop_made.make_plan", stopped)
    assert "Stopped; the adopted plan stands" in made(shop.head)


@pytest.mark.parametrize("name", ["shop", "shop-compare", "setbacks", "adopted-plans", "shop-csv"])
def test_it_is_the_workshop_s_alone(shop: Cast, name: str) -> None:
    assert shop.owner.get(reverse(name)).status_code == 403
    assert shop.nobody.get(reverse(name)).status_code == 302


def test_the_past_is_learned_from_and_each_car_says_what_its_promise_hangs_on(shop: Cast) -> None:
    finish_twice_as_long(shop.car)
    assert 'name="past" value="no">' in made(shop.head)
    learned = adopt(shop.head)
    page = shop.craft.get(reverse("shop")).content.decode()
    assert "on 1 job of the panel" in page
    assert page.count('class="promise-curve"') == 2
    assert "What makes it late" in page
    assert "What a day earlier costs" in page
    assert "What its finish hangs on" in page
    assert "waits for Bo Linnet, who is at Job paint" in page
    answer = shop.head.post(
        reverse("shop-making"), {"step": "begin", "past": "no"}, follow=True
    ).content.decode()
    assert 'name="past" value="no" checked' in answer
    assert "something changed since" not in answer
    written = adopt(shop.head)
    assert written.past == ()
    second = {plan: plan.by_key["second", "strip"] for plan in (learned, written)}
    took = {plan: task.end - task.start for plan, task in second.items()}
    assert took[learned] > took[written]
    assert PlannedShop.from_json(written.to_json()) == written


def test_a_plan_adopted_before_promises_had_curves_is_still_shown(shop: Cast) -> None:
    made(shop.head)
    adopt(shop.head)
    last = ShopPlan.objects.get()
    for car in last.content["cars"]:
        for name in ("curve", "late_because", "a_day_earlier", "hangs_on"):
            del car[name]
    for name in ("past", "shared"):
        del last.content[name]
    last.save()
    page = shop.craft.get(reverse("shop")).content.decode()
    assert "The promises" in page
    assert "promise-curve" not in page
