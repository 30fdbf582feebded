"""What a hold does to the promise, on the pages that name it: before and after."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from html import unescape

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from django_tasks_db.models import DBTaskResult
from tests.pages.conftest import Cast
from tests.pages.test_variants_and_proposals import send, sign

from asfound.base import AsfoundError
from asfound.record.actions import add_observations, release_hold, set_hold, set_sheet
from asfound.record.actions.shop_plan import adopt_plan
from asfound.record.background.worker import StoppableWorker
from asfound.record.convert.holds import HEAD, PART
from asfound.record.models import Car, Observation
from asfound.record.shop_made import make_plan
from asfound.record.shop_surprise import ShopSurprise, surprise_of_hold, surprise_of_hours

PEOPLE = [
    {
        "person": who,
        "trades": trade,
        "hours_per_day": "24",
        "days": "Mon-Sun",
    }
    for who, trade in (("Ann Rook", "trim"), ("Bo Fell", "paint"))
]
FRAGMENT = {"HX-Request": "true"}


def task(name: str, trade: str, hours: str) -> dict[str, str]:
    names = ("hours_low", "hours_likely", "hours_high")
    return {"task": name, "name": f"Job {name}", "trade": trade, **dict.fromkeys(names, hours)}


TASKS = [
    {**task("strip", "trim", "48"), "subject": "seats"},
    {**task("paint", "paint", "24"), "subject": "door left"},
    {**task("refit", "trim", "24"), "subject": "seats"},
]
"""Work by day and night: strip 2 d, then refit 1 d; paint 1 d, which may be 1 d late."""
LINKS = [{"before": "strip", "after": "refit"}, {"before": "paint", "after": "refit"}]
NOW = timezone.make_aware(datetime.combine(date(2031, 3, 3), time()))
PAINT_SLACK_D = 1


@pytest.fixture
def planned(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> Cast:
    monkeypatch.setattr("asfound.record.shop_made.WORK_S", 1.0)
    monkeypatch.setattr(timezone, "localtime", lambda *_: NOW)
    monkeypatch.setattr(timezone, "localdate", lambda *_: NOW.date())
    for table, rows in (("tasks", TASKS), ("task_links", LINKS), ("people", PEOPLE)):
        set_sheet(car=cast.car, table=table, rows=rows, by=None)
    made = make_plan(now=NOW)
    assert made is not None
    adopt_plan(shop=made.shop, inputs_sha256=made.inputs_sha256, by=None, follows=None)
    return cast


def hold(cast: Cast, name: str, days: int, kind: str = PART) -> Observation:
    cells = {
        "subject": next(row["subject"] for row in TASKS if row["task"] == name),
        "task": name,
        "kind": kind,
        "why": "a clip is missing",
        "expected": (NOW.date() + timedelta(days=days)).isoformat(),
    }
    made = set_hold(car=Car.objects.get(pk=cast.car.pk), cells=cells, by=None)
    assert made is not None
    return made


def days_later(found: ShopSurprise) -> int:
    (car,) = found.cars
    return car.days_later


@pytest.mark.parametrize("days", [1, 2, 5])
def test_a_wait_moves_the_promise_by_what_is_left_of_the_slack(planned: Cast, days: int) -> None:
    critical = surprise_of_hold(hold(planned, "strip", days), now=NOW)
    assert days_later(critical) == days
    assert {one.task: one.days for one in critical.moved} == {"strip": days, "refit": days}


@pytest.mark.parametrize("days", [1, 2, 5])
def test_a_task_with_slack_moves_it_less(planned: Cast, days: int) -> None:
    found = surprise_of_hold(hold(planned, "paint", days), now=NOW)
    assert days_later(found) == max(0, days - PAINT_SLACK_D)
    assert found.moved[0].task == "paint"


def test_letting_it_go_wins_what_the_hold_cost(planned: Cast) -> None:
    row = release_hold(hold=hold(planned, "strip", 3), note="", by=None)
    assert days_later(surprise_of_hold(row, now=NOW)) == -3


def test_a_hold_beside_another_costs_only_what_it_adds(planned: Cast) -> None:
    hold(planned, "strip", 3)
    assert days_later(surprise_of_hold(hold(planned, "strip", 5), now=NOW)) == 2


def page(client: Client, cast: Cast, row: Observation, query: str = "", **headers: str) -> str:
    address = reverse("hold-and-promise", args=(cast.car.slug, row.pk))
    return unescape(client.get(address + query, headers=headers).content.decode())


def test_the_card_and_the_first_page_lead_to_it_and_a_worker_does_it(
    planned: Cast, worker: StoppableWorker
) -> None:
    row = hold(planned, "strip", 4, HEAD)
    address = reverse("hold-and-promise", args=(planned.car.slug, row.pk))
    card = planned.craft.get(reverse("card", args=(planned.car.slug,)), {"task": "strip"})
    assert f'hx-get="{address}"' in card.content.decode()
    assert address + "?brief=1" in planned.head.get("/").content.decode()
    assert "Working out" in page(planned.craft, planned, row, **FRAGMENT)
    assert "working out" in page(planned.head, planned, row, "?brief=1", **FRAGMENT)
    asked = DBTaskResult.objects.get()
    worker.take(asked)
    told = page(planned.craft, planned, row, **FRAGMENT)
    assert "moves by 4 days" in told
    assert "2 tasks end at another time" in told
    assert "4 days" in page(planned.head, planned, row, "?brief=1", **FRAGMENT)


def test_a_release_leads_to_what_it_does(planned: Cast) -> None:
    row = hold(planned, "strip", 2)
    address = reverse("release-hold", args=(planned.car.slug, row.pk))
    back = planned.craft.post(address).url
    ended = Observation.objects.current().get(table="holds")
    assert back.endswith(f"?moved={ended.pk}")
    assert reverse("hold-and-promise", args=(planned.car.slug, ended.pk)) in str(
        planned.craft.get(back).content
    )
    assert "comes 2 days earlier" in page(planned.craft, planned, ended)


def test_a_correction_leads_to_what_it_changes(planned: Cast) -> None:
    row = hold(planned, "strip", 2)
    address = reverse("correct-hold", args=(planned.car.slug, row.pk))
    day = (NOW.date() + timedelta(days=5)).isoformat()
    told = {**row.cells, "step": "correct", "expected": day, "reason": "it comes later"}
    back = planned.craft.post(address, told).url
    new = Observation.objects.current().get(table="holds")
    assert back.endswith(f"?moved={new.pk}")
    asked = reverse("hold-and-promise", args=(planned.car.slug, new.pk)) + "?change=1"
    assert asked in planned.craft.get(back).content.decode()
    assert "moves by 3 days" in page(planned.craft, planned, new, "?change=1")
    assert "moves by 5 days" in page(planned.craft, planned, new)


def test_a_withdrawal_leads_to_what_it_wins(planned: Cast) -> None:
    row = hold(planned, "strip", 3)
    address = reverse("correct-hold", args=(planned.car.slug, row.pk))
    told = {"step": "withdraw", "reason": "wrong task", "withdraw_reason": "wrong task"}
    back = planned.craft.post(address, told).url
    assert back.endswith(f"?moved={row.pk}")
    row.refresh_from_db()
    assert not row.counts
    assert str(row.pk) + "/promise/?change=1" in planned.craft.get(back).content.decode()
    assert "comes 3 days earlier" in page(planned.craft, planned, row, "?change=1")


def test_a_piece_that_is_out_holds_its_tasks_and_is_named_by_the_finish(planned: Cast) -> None:
    """Refitting needs the seats back on the morning of the sixth day, and takes one."""
    due = NOW.date() + timedelta(days=5)
    out = {
        "part": "seats",
        "to": "Halder Plating",
        "work": "invented: clean the runners",
        "sent_on": "2031-03-01",
        "due_on": due.isoformat(),
    }
    add_observations(car=Car.objects.get(pk=planned.car.pk), table="errands", rows=[out], by=None)
    made = make_plan(now=NOW)
    assert made is not None
    (car,) = made.shop.cars
    assert made.shop.by_key[car.car, "strip"].start.date() == due
    strip, refit = car.hangs_on
    assert (strip.task, strip.kind) == ("strip", "day")
    assert strip.of == "seats out at Halder Plating, due in 8 Mar 2031"
    assert (refit.task, refit.before) == ("refit", (car.car, "strip"))


def test_without_an_adopted_plan_there_is_no_promise_to_move(cast: Cast) -> None:
    set_sheet(car=cast.car, table="tasks", rows=TASKS, by=None)
    set_sheet(car=cast.car, table="people", rows=PEOPLE, by=None)
    row = hold(cast, "strip", 2)
    assert "no promise to move" in page(cast.craft, cast, row)
    assert page(cast.craft, cast, row, "?brief=1", **FRAGMENT).strip() == ""
    address = reverse("hold-and-promise", args=(cast.car.slug, row.pk))
    assert cast.owner.get(address).status_code == 403
    assert cast.stranger.get(address).status_code == 404


def test_more_hours_on_a_piece_move_the_promise_and_the_change_order_says_so(
    planned: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Half as long again: strip takes 3 d instead of 2 and refit 1.5 d instead of 1."""
    found = surprise_of_hours(planned.car, {"seats": 1.5}, now=NOW)
    assert {one.task: one.days for one in found.moved} == {"strip": 1.0, "refit": 1.5}
    assert days_later(found) in (1, 2)
    with pytest.raises(AsfoundError, match="No task of what changes"):
        surprise_of_hours(planned.car, {"brakes": 2.0}, now=NOW)
    send(planned)
    sign(planned)
    # Renewed seats take 8 h, mended ones 12: a third less of 3 days.
    order = reverse("new-proposal", args=(planned.car.slug,)) + "?piece=seats&option=renew"
    told = unescape(planned.head.get(order).content.decode())
    assert "1 day earlier by this change" in told
    assert "the order of the adopted plan is kept" in told
