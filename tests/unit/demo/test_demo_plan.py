"""Two invented cars in one plan: adopted on Friday, upset by a late plater, adopted anew."""

from __future__ import annotations

from datetime import UTC, date, datetime
from itertools import pairwise

import pytest
from django.contrib.auth import get_user_model

from asfound.demo import demo_folder, shelf, small_job_folder
from asfound.demo.accounts import Account
from asfound.demo.days import AS_WRITTEN
from asfound.demo.planned import plan_shop
from asfound.record.actions import create_account, load_car
from asfound.record.log import check_chain
from asfound.record.models import Car, Entry, ShopPlan
from asfound.record.results.plan_moves import moves_between
from asfound.record.results.shop_plan import PlannedShop

MONDAY = datetime(2024, 4, 15, 7, 40, tzinfo=UTC)


@pytest.fixture
def head(db: None) -> Account:
    create_account(username="demo-head", role="head", password="walnut-veneer-41", by=None)
    return Account(name="demo-head", role="head", may="", password="")


@pytest.fixture
def cars(db: None) -> tuple[Car, Car]:
    return (
        load_car(folder=demo_folder(), by=None),
        load_car(folder=small_job_folder(), by=None),
    )


def test_the_late_plater_moves_the_promise_and_nothing_that_has_begun(
    cars: tuple[Car, Car], head: Account
) -> None:
    by = get_user_model().objects.get(username=head.name)
    plan_shop(cars, days=AS_WRITTEN, now=MONDAY, by=by)
    before, after = (
        PlannedShop.from_json(plan.content) for plan in ShopPlan.objects.order_by("pk")
    )
    assert before.made_at < after.made_at
    assert {task.car for task in after.tasks} == {car.slug for car in cars}
    for plan in (before, after):
        for person in plan.people:
            own = sorted((t.start, t.end) for t in plan.tasks if person in t.people)
            assert all(one[1] <= two[0] for one, two in pairwise(own))
    moves = moves_between(before, after)
    assert {move.after.task for move in moves.moved} == {"T29", "T31", "T32"}
    named = {car.after.car: car for car in moves.cars}
    small, large = named[cars[1].slug], named[cars[0].slug]
    assert small.after.finish == small.before.finish
    assert large.after.finish > large.before.finish
    assert large.after.p80 > large.before.p80
    assert large.after.kept < large.before.kept
    # The car with the higher priority is done first, by the day that was promised.
    assert small.after.finish < large.after.finish
    assert small.after.finish.date() < small.after.promised == date(2024, 4, 24)
    words = Entry.objects.get(action="setback").after["words"]
    assert "plater" in ShopPlan.objects.first().because
    assert "invented" in words.lower()
    assert check_chain().broken is None


def test_a_workshop_with_a_car_of_its_own_is_not_planned(
    cars: tuple[Car, Car], head: Account
) -> None:
    load_car(folder=small_job_folder(), by=None, slug="a-real-one")
    shelf.plan_once(cars, (head,), days=AS_WRITTEN, now=MONDAY)
    assert not ShopPlan.objects.exists()


def test_the_second_car_is_whole_and_marked_as_invented() -> None:
    car = small_job_folder()
    assert car.package["invented"] is True
    pieces = {row.text("part") for row in car.sheet("parts")}
    for table in ("subjects", "tasks", "findings"):
        assert {row.text("subject") for row in car.sheet(table)} <= pieces, table
    for table in ("findings", "worked"):
        assert all("invented" in row.text("note") for row in car.sheet(table))
    assert 8 <= len(car.sheet("tasks")) <= 12
    for table in ("people", "bays"):
        assert car.sheet(table) == demo_folder().sheet(table)
