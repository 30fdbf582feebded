"""A car's place in the shop goes into its folder and comes out of it; the record holds it once."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from asfound.record.actions import load_car
from asfound.record.actions.shop_plan import set_shop_car
from asfound.record.as_files import for_owner
from asfound.record.convert.in_shop import InShop, in_shop
from asfound.record.convert.stored import folder_of
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car, ShopCar

CAR = Sheet(columns=("marque", "model", "body_style", "built"), rows=(("Invented", "A", "b", "1"),))


def _folder(*row: str) -> CarFolder:
    sheet = Sheet(columns=("priority", "promised", "at_work", "bay"), rows=(row,))
    return CarFolder(sheets={"car": CAR, "in_shop": sheet})


def _set(car: Car, *, priority: float, promised: date | None) -> None:
    set_shop_car(
        car=car,
        priority=priority,
        promised=promised,
        at_work=True,
        today=date(2026, 3, 1),
        by=None,
    )


@pytest.mark.django_db
def test_a_loaded_car_stands_where_its_folder_says() -> None:
    folder = _folder("2.50", "2026-05", "no", "north")
    car = load_car(folder=folder, by=None, slug="a")
    place = ShopCar.objects.get(car=car)
    assert (place.priority, place.promised, place.at_work) == (2.5, date(2026, 5, 31), False)
    assert folder_of(car).sheet("in_shop") == folder.sheet("in_shop")  # nothing is spelled anew


@pytest.mark.django_db
def test_what_the_head_says_is_what_the_folder_tells() -> None:
    car = load_car(folder=_folder("2", "2026-05-29", "", "north"), by=None, slug="a")
    _set(car, priority=2.0, promised=date(2026, 6, 12))
    told = next(iter(folder_of(car).sheet("in_shop"))).cells
    assert told == {"priority": "2", "promised": "2026-06-12", "at_work": "", "bay": "north"}
    _set(car, priority=1.0, promised=None)
    assert in_shop(folder_of(car)) == InShop()


@pytest.mark.django_db
def test_a_car_loaded_again_stays_where_the_head_put_it() -> None:
    car = load_car(folder=_folder("2", "2026-05-29", "", ""), by=None, slug="a")
    _set(car, priority=7.0, promised=None)
    again = load_car(folder=_folder("3", "", "", ""), by=None, slug="a", replace=True)
    assert in_shop(folder_of(again)) == InShop(priority=7.0)


@pytest.mark.django_db
def test_a_car_without_the_table_gets_it_when_the_head_puts_it_somewhere() -> None:
    car = load_car(folder=CarFolder(sheets={"car": CAR}), by=None, slug="a")
    assert "in_shop" not in folder_of(car).sheets
    _set(car, priority=4.0, promised=date(2026, 6, 12))
    folder = folder_of(Car.objects.get())
    assert folder.sheet("in_shop").columns == ("priority", "promised")
    assert in_shop(folder) == InShop(priority=4.0, promised=date(2026, 6, 12))
    assert "in_shop" not in for_owner(folder).sheets
    other = load_car(folder=replace(folder, sheets=dict(folder.sheets)), by=None, slug="b")
    assert in_shop(folder_of(other)) == in_shop(folder)
