"""A spot that a device sends twice is kept once, also when both arrive at the same moment."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection
from tests.unit.record.conftest import small_folder

from asfound.record.actions import keep_spot, load_car
from asfound.record.faults import Fault, InputFaultsError
from asfound.record.models import FilmReading

ROW = {"panel": "bonnet", "spot": "9", "x_mm": "10", "y_mm": "20", "thickness_um": "180"}


@pytest.mark.django_db(transaction=True)
def test_two_at_once() -> None:
    car = load_car(folder=small_folder(), by=None)
    before = FilmReading.objects.count()

    def send(_: int) -> object:
        try:
            return keep_spot(car=car, rows=lambda: [ROW], key="k1", by=None)
        finally:
            connection.close()

    with ThreadPoolExecutor(4) as threads:
        kept = list(threads.map(send, range(4)))
    assert sorted(kept, key=str) == sorted([[ROW], None, None, None], key=str)
    assert FilmReading.objects.count() == before + 1


@pytest.mark.django_db
def test_one_that_was_refused_may_be_sent_again() -> None:
    car = load_car(folder=small_folder(), by=None)

    def faulty() -> list[dict[str, str]]:
        raise InputFaultsError((Fault(file="the spot", rule="off the panel", remedy="Tap again."),))

    with pytest.raises(InputFaultsError):
        keep_spot(car=car, rows=faulty, key="k2", by=None)
    assert keep_spot(car=car, rows=lambda: [ROW], key="k2", by=None) == [ROW]
