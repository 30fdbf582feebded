"""Readings of metal, colour, polish and gaps: never overwritten, once only, whole or not at all."""

from __future__ import annotations

import pytest
from django.core.exceptions import PermissionDenied

from asfound.base import InputError
from asfound.record.actions import (
    add_observations,
    correct_observation,
    set_sheet,
    sheet_rows,
    withdraw_observation,
)
from asfound.record.convert.stored import folder_of
from asfound.record.log import check_chain
from asfound.record.models import Car, Entry, Observation, Person

pytestmark = pytest.mark.django_db

SILL = {"panel": "sill", "x_mm": "10", "y_mm": "5", "thickness_mm": "0.82"}


@pytest.fixture
def car() -> Car:
    return Car.objects.create(slug="car", heads={})


def test_added_rows_come_back_as_they_were_written(car: Car) -> None:
    add_observations(car=car, table="metal", rows=[SILL, {**SILL, "gauge": "blue"}], by=None)
    sheet = folder_of(car).sheet("metal")
    assert [row.text("thickness_mm") for row in sheet] == ["0.82", "0.82"]
    assert [row.text("gauge") for row in sheet] == ["", "blue"]
    assert check_chain().broken is None


def test_what_a_device_sends_twice_is_written_once(car: Car) -> None:
    for _ in range(2):
        add_observations(car=car, table="metal", rows=[SILL], by=None, key="k1")
    assert car.observations.count() == 1


def test_a_correction_keeps_the_old_reading_and_its_reason(car: Car) -> None:
    (old,) = add_observations(car=car, table="metal", rows=[SILL], by=None)
    correct_observation(
        observation=old, cells={"thickness_mm": "0.28"}, reason="digits swapped", by=None
    )
    assert [row.text("thickness_mm") for row in folder_of(car).sheet("metal")] == ["0.28"]
    old.refresh_from_db()
    assert (old.cells["thickness_mm"], old.reason, old.counts) == ("0.82", "digits swapped", False)
    with pytest.raises(InputError, match="not corrected or withdrawn"):
        correct_observation(observation=old, cells={}, reason="again", by=None)


def test_a_withdrawn_reading_counts_no_longer_and_wants_a_reason(car: Car) -> None:
    (one,) = add_observations(car=car, table="metal", rows=[SILL], by=None)
    with pytest.raises(InputError, match="in a few words"):
        withdraw_observation(observation=one, reason=" ", by=None)
    withdraw_observation(observation=one, reason="on the wrong car", by=None)
    assert len(folder_of(car).sheet("metal")) == 0
    assert Observation.objects.count() == 1
    for write in (one.delete, Observation.objects.all().delete, one.save):
        with pytest.raises(TypeError, match="observation is"):
            write()


def test_only_observed_tables_take_observations(car: Car) -> None:
    with pytest.raises(InputError, match="metal, colour"):
        add_observations(car=car, table="tasks", rows=[], by=None)


def test_a_small_table_is_set_whole_and_the_log_keeps_what_it_was(car: Car) -> None:
    first = [{"panel": "roof", "floor_um": "90", "basis": "guess"}]
    second = [{"panel": "roof", "floor_um": "100", "basis": "measured"}]
    set_sheet(car=car, table="polish_floors", rows=first, by=None)
    set_sheet(car=car, table="polish_floors", rows=second, seen=first, by=None)
    assert sheet_rows(car, "polish_floors")[0]["floor_um"] == "100"
    assert Entry.objects.last().before[0]["floor_um"] == "90"
    with pytest.raises(InputError, match="changed meanwhile"):
        set_sheet(car=car, table="polish_floors", rows=first, seen=first, by=None)
    assert len(folder_of(car).sheet("polish_floors")) == 1


def test_an_owner_reads_and_does_not_write(car: Car, django_user_model: type) -> None:
    owner = django_user_model.objects.create_user("owner")
    Person.objects.create(user=owner, role="owner")
    with pytest.raises(PermissionDenied):
        add_observations(car=car, table="metal", rows=[SILL], by=owner)
    with pytest.raises(PermissionDenied):
        set_sheet(car=car, table="edges", rows=[], by=owner)
