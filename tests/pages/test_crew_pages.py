"""The workshop's own people, bays and closed days: kept by the head, and planned with."""

from __future__ import annotations

import json
from datetime import date, timedelta
from html import unescape

import pytest
from django.urls import reverse
from django.utils import timezone
from tests.pages.conftest import Cast
from tests.pages.small_car import small_car
from tests.pages.test_plan_pages import LINKS, PEOPLE, TASKS
from tests.pages.test_shop_pages import adopt, in_little_time, made

from asfound.exchange import read_folder, write_folder
from asfound.record.actions import load_car, set_sheet
from asfound.record.actions.workshop import set_workshop
from asfound.record.convert.stored import folder_of, whole
from asfound.record.models import Car, Workshop
from asfound.record.reads.workshop import workshop_rows

__all__ = ["in_little_time"]

BAYS = [{"bay": "bench", "count": "1"}, {"bay": "booth", "count": "1"}]


@pytest.fixture
def shop(cast: Cast) -> Cast:
    """A car with tasks and nobody of its own; the people are the workshop's."""
    for table, rows in (("tasks", TASKS), ("task_links", LINKS)):
        set_sheet(car=cast.car, table=table, rows=rows, by=None)
    for table, rows in (("people", PEOPLE), ("bays", BAYS)):
        set_workshop(table=table, rows=rows, by=None)
    return cast


def plan_of(cast: Cast, car: Car | None = None) -> dict[str, list[str]]:
    address = reverse("plan-json", args=((car or cast.car).slug,))
    told = json.loads(cast.craft.get(address).content)
    return {task["task"]: task["people"] for task in told["tasks"]}


def sent(table: str, rows: list[dict[str, str]]) -> dict[str, str]:
    """The form of the table as it is posted, from what is there now."""
    cells = {f"{n}.{name}": cell for n, row in enumerate(rows, 1) for name, cell in row.items()}
    seen = json.dumps(workshop_rows(table))
    return {**cells, "rows": str(len(rows)), "seen": seen, "step": "keep"}


def text(answer: object) -> str:
    return unescape(answer.content.decode())  # type: ignore[attr-defined]


def test_a_car_without_people_is_planned_with_the_workshop_s(shop: Cast) -> None:
    assert plan_of(shop)["strip"] == ["Ann Rook"]
    page = text(shop.craft.get(reverse("plan", args=(shop.car.slug,))))
    assert "People of the workshop" in page
    own = [{**row, "person": f"Own {row['person']}"} for row in PEOPLE]
    set_sheet(car=shop.car, table="people", rows=own, by=None)
    assert plan_of(shop)["strip"] == ["Own Ann Rook"]
    page = text(shop.craft.get(reverse("plan", args=(shop.car.slug,))))
    assert "People and their hours" in page
    assert "Cars with their own" in text(shop.craft.get(reverse("crew")))


def test_a_folder_with_its_own_people_round_trips_and_the_workshop_s_are_in_none(
    shop: Cast, tmp_path
) -> None:
    write_folder(whole(folder_of(shop.car)), tmp_path / "without")
    assert not (tmp_path / "without" / "people.csv").exists()
    set_sheet(car=shop.car, table="people", rows=PEOPLE, by=None)
    stored = whole(folder_of(Car.objects.get(pk=shop.car.pk)))
    write_folder(stored, tmp_path / "with")
    assert read_folder(tmp_path / "with").sheet("people") == stored.sheet("people")


def test_the_head_keeps_them_and_others_read_them(shop: Cast) -> None:
    page = text(shop.craft.get(reverse("crew")))
    assert "Ann Rook" in page
    assert reverse("crew-table", args=("people",)) not in page
    address = reverse("crew-table", args=("people",))
    assert shop.craft.get(address).status_code == 403
    assert shop.owner.get(reverse("crew")).status_code == 403
    assert shop.nobody.get(reverse("crew")).status_code == 302
    assert shop.head.get(reverse("crew-table", args=("tasks",))).status_code == 404
    rows = [*PEOPLE, {"person": "Cy Dunnock", "trades": "trim", "hours_per_day": "7,5"}]
    shop.head.post(address, sent("people", rows))
    assert workshop_rows("people")[-1]["hours_per_day"] == "7.5"
    exported = shop.craft.get(reverse("crew-csv", args=("people",))).content.decode()
    assert exported.splitlines()[-1].startswith("Cy Dunnock,trim,7.5")


def test_what_somebody_else_changed_meanwhile_is_not_overwritten(shop: Cast) -> None:
    form = sent("people", PEOPLE[:1])
    set_workshop(table="people", rows=[*PEOPLE, {**PEOPLE[0], "person": "New"}], by=None)
    answer = shop.head.post(reverse("crew-table", args=("people",)), form)
    assert answer.status_code == 409
    assert len(workshop_rows("people")) == 3


@pytest.mark.parametrize(
    ("table", "row", "told"),
    [
        ("people", {**PEOPLE[0], "away": "2026-01-01/.."}, "is away for ever"),
        ("people", {**PEOPLE[0], "away": "soon"}, "each absence must be"),
        ("people", {**PEOPLE[0], "hours_per_day": "0"}, "works no hours"),
        ("people", {**PEOPLE[0], "hours_per_day": "-1"}, "hours_per_day"),
        ("bays", {**BAYS[0], "closed": "2026-01-01/.."}, "is closed for ever"),
        ("closed_days", {"days": "2026-12-24/.."}, "the workshop is closed for ever"),
        ("closed_days", {"days": "at Yule"}, "each time in which a place is closed"),
    ],
)
def test_what_cannot_be_is_named_at_its_row_and_nothing_is_kept(
    shop: Cast, table: str, row: dict[str, str], told: str
) -> None:
    before = Workshop.objects.count()
    answer = shop.head.post(reverse("crew-table", args=(table,)), sent(table, [row]))
    assert answer.status_code == 422
    assert told in text(answer)
    assert Workshop.objects.count() == before


def test_a_trade_that_nobody_has_is_named_where_it_can_be_mended(shop: Cast) -> None:
    set_workshop(table="people", rows=PEOPLE[:1], by=None)
    assert "Nobody has the trade “paint”" in text(shop.craft.get(reverse("crew")))
    page = text(shop.craft.get(reverse("plan-made", args=(shop.car.slug,))))
    assert "Nobody in the workshop's table of people has the trade that paint needs" in page
    assert "people.csv" not in page
    assert "nobody in the workshop's table of people has the trade" in unescape(made(shop.head))


def test_nobody_works_on_closed_days(shop: Cast) -> None:
    today = timezone.localdate()
    last = today + timedelta(days=20)
    set_workshop(table="closed_days", rows=[{"days": f"{today}/{last}"}], by=None)
    made(shop.head)
    assert all(task.start.date() > last for task in adopt(shop.head).tasks)


def test_somebody_away_is_written_into_the_workshop_s_table(shop: Cast) -> None:
    first, last = (timezone.localdate() + timedelta(days=days) for days in (0, 20))
    typed = {"kind": "away", "name": "Bo Linnet", "first": f"{first}", "last": f"{last}"}
    shop.craft.post(reverse("setbacks"), typed)
    assert workshop_rows("people")[1]["away"] == f"{first}/{last}"
    planned = adopt(shop.head)
    assert all(t.start.date() > last for t in planned.tasks if "Bo Linnet" in t.people)


def test_cars_with_and_without_people_of_their_own_are_planned_together(shop: Cast) -> None:
    second = load_car(folder=small_car(), by=None, slug="second")
    for table, rows in (("tasks", TASKS), ("people", [{**PEOPLE[0], "hours_per_day": "6"}])):
        set_sheet(car=second, table=table, rows=rows, by=None)
    page = unescape(made(shop.head))
    assert "has '8' there in the workshop's table of people" in page
    set_sheet(car=second, table="people", rows=[], by=None)
    made(shop.head)
    assert {task.car for task in adopt(shop.head).tasks} == {shop.car.slug, "second"}


def test_who_signs_in_is_known_by_the_workshop_s_table(shop: Cast) -> None:
    page = text(shop.craft.get(reverse("crew")))
    assert "No person here is known to sign in as trimmer" in page
    rows = [{**PEOPLE[0], "signs_in_as": "trimmer"}, PEOPLE[1]]
    set_workshop(table="people", rows=rows, by=None)
    assert "is known to sign in as" not in text(shop.craft.get(reverse("crew")))
    cards = text(shop.craft.get(reverse("todays-cards")))
    assert 'index-name">Job strip' in cards
    assert 'index-name">Job paint' not in cards  # Bo's


def test_rows_of_the_cars_are_offered_where_the_workshop_has_none(cast: Cast) -> None:
    for table, rows in (("tasks", TASKS), ("people", PEOPLE)):
        set_sheet(car=cast.car, table=table, rows=rows, by=None)
    page = text(cast.head.get(reverse("crew-table", args=("people",))))
    assert "these rows are from the tables of its cars" in page
    assert 'value="Bo Linnet"' in page
    assert not Workshop.objects.exists()


def test_a_held_task_says_what_it_waits_for_and_since_when(shop: Cast) -> None:
    from asfound.record.actions import set_hold  # noqa: PLC0415

    cells = {"task": "paint", "subject": "car", "kind": "owner must see", "why": "two shades"}
    day = date(2026, 3, 20)
    set_hold(car=shop.car, cells={**cells, "expected": day.isoformat()}, by=None, key="")
    today = timezone.now().date()
    words = f"waits for the owner to see it since {today.day} {today:%b %Y}, expected 20 Mar 2026"
    page = text(shop.craft.get(reverse("plan-made", args=(shop.car.slug,))))
    assert f"paint Job paint</a> {words}: two shades." in page
    assert f": Job paint</a> {words}" in text(shop.craft.get(reverse("shop")))
