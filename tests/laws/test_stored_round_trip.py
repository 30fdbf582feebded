"""Law: a car folder that is stored comes back equal."""

from __future__ import annotations

from itertools import count

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.laws.strategies_folder import folders

from asfound.record.actions import load_car
from asfound.record.actions.load import _clear
from asfound.record.convert.stored import folder_of
from asfound.record.convert.stored_cells import shortest
from asfound.record.convert.storing import store_folder
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car
from asfound.record.tables import TABLES, Form

_SLUGS = (f"car-{number}" for number in count())
_IN_ONE_TEST = settings(
    max_examples=150,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.function_scoped_fixture],
)


def comparable(name: str, sheet: Sheet) -> tuple[tuple[str, ...], list[list[str | float]]]:
    """Columns and rows, with numbers as numbers and everything else as text."""
    forms = [TABLES[name].column(column).form for column in sheet.columns]
    rows = [
        [
            float(cell) if cell and form in (Form.NUMBER, Form.INTEGER) else cell
            for cell, form in zip(row, forms, strict=True)
        ]
        for row in sheet.rows
    ]
    return sheet.columns, rows


def assert_same(came: CarFolder, went: CarFolder) -> None:
    assert set(came.sheets) == set(went.sheets)
    for name, sheet in went.sheets.items():
        assert comparable(name, came.sheets[name]) == comparable(name, sheet), name
    assert came.brief == went.brief
    assert came.lift == went.lift
    assert came.package == went.package
    assert came.files == went.files


@pytest.mark.django_db
@_IN_ONE_TEST
@given(folder=folders())
def test_a_stored_folder_comes_back_equal(folder: CarFolder) -> None:
    car = Car(slug=next(_SLUGS))
    store_folder(folder, car)
    assert_same(folder_of(Car.objects.get(pk=car.pk)), folder)


@pytest.mark.django_db
@settings(_IN_ONE_TEST, max_examples=50)
@given(first=folders(), second=folders())
def test_a_car_loaded_again_is_the_second_folder(first: CarFolder, second: CarFolder) -> None:
    car = Car(slug=next(_SLUGS))
    store_folder(first, car)
    _clear(car, None)
    store_folder(second, car)
    assert_same(folder_of(Car.objects.get(pk=car.pk)), second)


@pytest.mark.django_db
@settings(_IN_ONE_TEST, max_examples=40)
@given(folder=folders(with_files=False))
def test_the_action_stores_the_same(folder: CarFolder) -> None:
    car = load_car(folder=folder, by=None, slug=next(_SLUGS))
    assert_same(folder_of(car), folder)


@given(st.floats(allow_nan=False, allow_infinity=False))
def test_the_shortest_form_reads_back_as_the_same_number(value: float) -> None:
    assert float(shortest(value)) == value


@given(st.integers(-(10**15), 10**15))
def test_a_whole_number_is_written_without_a_point(value: int) -> None:
    assert shortest(float(value)) == str(value)
