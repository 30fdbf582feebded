"""Holds: set on a card, waited for by the plan, released by whom they name and nobody else."""

from __future__ import annotations

from datetime import date, timedelta
from html import unescape
from pathlib import Path
from urllib.parse import urlencode

import pytest
from django.urls import reverse
from tests.pages.conftest import Cast
from tests.unit.record.test_worked import PEOPLE, TASKS

from asfound.base import InputError
from asfound.exchange import read_folder, write_folder
from asfound.record.actions import keep_photo, set_hold, set_sheet
from asfound.record.actions.worked import start_work
from asfound.record.convert.cards import cards_of
from asfound.record.convert.holds import open_holds
from asfound.record.convert.plan import shop_question
from asfound.record.convert.stored import folder_of, whole
from asfound.record.models import Car, Observation

START = date(2026, 3, 2)
EXPECTED = START + timedelta(days=9)


@pytest.fixture
def planned(cast: Cast) -> Cast:
    set_sheet(car=cast.car, table="tasks", rows=TASKS, by=None)
    set_sheet(car=cast.car, table="people", rows=PEOPLE, by=None)
    return cast


def url(cast: Cast, name: str, *more: object, **query: str) -> str:
    return f"{reverse(name, args=(cast.car.slug, *more))}?{urlencode(query)}"


def text(answer) -> str:
    return unescape(answer.content.decode())


def hold(cast: Cast, kind: str, **cells: str) -> Observation:
    told = {"kind": kind, "why": "two cloths to pick from", "expected": EXPECTED.isoformat()}
    answer = cast.craft.post(url(cast, "add-hold", task="S1"), {**told, **cells})
    assert answer.status_code == 302
    return Observation.objects.current().get(table="holds")


def begin(cast: Cast) -> object:
    car = Car.objects.get(pk=cast.car.pk)
    return start_work(car=car, cells={"task": "S1", "subject": "seats", "person": "I"}, by=None)


def test_a_held_card_cannot_be_begun_until_the_owner_releases_it(planned: Cast) -> None:
    row = hold(planned, "owner must see")
    assert "Held: the owner must see it" in text(planned.craft.get(url(planned, "card", task="S1")))
    with pytest.raises(InputError, match="held"):
        begin(planned)
    for client in (planned.craft, planned.head, planned.stranger):
        answer = client.post(url(planned, "release-hold", row.pk))
        assert answer.status_code in (403, 404)
    page = text(planned.owner.get(url(planned, "holds")))
    assert "The workshop waits for you" in page
    assert "two cloths to pick from" in page
    assert "The workshop waits for you" in text(planned.owner.get(reverse("cars")))
    planned.owner.post(url(planned, "release-hold", row.pk), {"note": "the darker one"})
    now = Observation.objects.current().get(table="holds")
    assert (now.cells["released_by"], now.cells["note"]) == ("owner", "the darker one")
    assert now.cells["released_at"]
    assert begin(planned) is not None


def test_the_head_releases_what_the_head_must_see(planned: Cast) -> None:
    row = hold(planned, "head must see")
    assert "The head must see" in text(planned.head.get(reverse("cars")))
    assert planned.craft.post(url(planned, "release-hold", row.pk)).status_code == 403
    assert "two cloths" not in text(planned.owner.get(url(planned, "holds")))
    planned.head.post(url(planned, "release-hold", row.pk))
    assert begin(planned) is not None


def test_a_photograph_must_be_there_before_it_is_released(planned: Cast) -> None:
    row = hold(planned, "photograph first")
    refused = planned.craft.post(url(planned, "release-hold", row.pk), follow=True)
    assert "none since the hold was set" in text(refused)
    shot = {"sha256": "0" * 64, "size": 1, "suffix": ".jpg", "view": "whole", "stage": "before"}
    keep_photo(car=planned.car, subject="seats", by=None, **shot)
    planned.craft.post(url(planned, "release-hold", row.pk))
    assert begin(planned) is not None


def test_the_plan_takes_a_hold_as_a_wait_until_the_day_it_is_expected(planned: Cast) -> None:
    hold(planned, "part", waits_for="horsehair")
    folder = folder_of(Car.objects.get(pk=planned.car.pk))
    starts = {
        task.task: task.not_before_min for task in shop_question(folder, start=START).problem.tasks
    }
    assert starts == {"S1": 9 * 24 * 60, "B1": 0, "T1": 0}


def test_a_hold_of_a_piece_holds_its_every_task_and_goes_through_a_folder(
    planned: Cast, tmp_path: Path
) -> None:
    told = {"kind": "specialist", "why": "the hide is at the dyer", "expected": "2026-03-11"}
    row = set_hold(car=planned.car, cells={"subject": "seats", **told}, by=None)
    assert row is not None
    folder = whole(folder_of(Car.objects.get(pk=planned.car.pk)))
    write_folder(folder, tmp_path / "car")
    again = read_folder(tmp_path / "car")
    assert open_holds(again) == open_holds(folder)
    held = {card.task for card in cards_of(again, now=row.entered_at) if card.holds}
    assert held == {"S1"}


def test_bad_days_are_asked_back_and_a_hold_is_withdrawn_with_a_reason(planned: Cast) -> None:
    told = {"kind": "part", "why": "hair", "expected": ""}
    assert planned.craft.post(url(planned, "add-hold", task="S1"), told).status_code == 422
    row = hold(planned, "part")
    planned.craft.post(
        url(planned, "correct-hold", row.pk), {"step": "withdraw", "reason": "wrong task"}
    )
    assert begin(planned) is not None
    assert planned.owner.get(url(planned, "add-hold", task="S1")).status_code == 403


def test_what_waits_for_owner_or_head_is_withdrawn_by_the_head_alone(planned: Cast) -> None:
    for kind, status in (("owner must see", 403), ("head must see", 403), ("part", 302)):
        made = hold(planned, kind)
        data = {"step": "withdraw", "reason": "set by mistake"}
        address = url(planned, "correct-hold", made.pk)
        assert planned.craft.post(address, data).status_code == status
        if status == 403:
            assert planned.head.post(address, data).status_code == 302
        assert not open_holds(folder_of(planned.car))
