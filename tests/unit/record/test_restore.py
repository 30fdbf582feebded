"""What was withdrawn by mistake counts again, by a line of its own."""

from __future__ import annotations

import pytest
from django.core.exceptions import PermissionDenied
from tests.unit.record.conftest import small_folder

from asfound.base import InputError
from asfound.record.actions import (
    add_observations,
    load_car,
    lock_option,
    release_lock,
    restore_film_reading,
    restore_lock,
    restore_observation,
    withdraw_film_reading,
    withdraw_observation,
)
from asfound.record.log import check_chain
from asfound.record.models import Car, Entry, Person


def test_a_withdrawn_reading_counts_again_and_the_log_keeps_both(car: Car, head: Person):
    reading = car.film_readings.first()
    with pytest.raises(InputError):
        restore_film_reading(reading=reading, by=head.user)
    withdraw_film_reading(reading=reading, reason="wrong panel", by=head.user)
    restore_film_reading(reading=reading, by=head.user)
    reading.refresh_from_db()
    assert reading.counts
    assert car.film_readings.current().count() == 3
    told = list(Entry.objects.order_by("-pk").values_list("action", "before", "after")[:2])
    assert told[0] == (
        "restore film reading",
        {"reading": reading.pk, "withdrawn": "wrong panel"},
        {"reading": reading.pk},
    )
    assert told[1][0] == "withdraw film reading"
    assert check_chain().broken is None


def test_an_observation_counts_again(car: Car, head: Person):
    row = {"panel": "bonnet", "spot": "1", "L": "40", "a": "1", "b": "2"}
    (made,) = add_observations(car=car, table="colour", rows=[row], by=head.user)
    withdraw_observation(observation=made, reason="dirty", by=head.user)
    restore_observation(observation=made, by=head.user)
    made.refresh_from_db()
    assert made.counts
    assert Entry.objects.last().action == "restore colour reading"


def test_what_was_replaced_by_a_folder_does_not_come_back(car: Car, head: Person):
    reading = car.film_readings.first()
    load_car(folder=small_folder(), by=head.user, slug=car.slug, replace=True)
    with pytest.raises(InputError, match="tables that the car has now"):
        restore_film_reading(reading=reading, by=head.user)


def test_a_lock_is_locked_again_with_its_reason(car: Car, head: Person):
    first = lock_option(car=car, subject="bonnet", option="clean", reason="wish", by=head.user)
    with pytest.raises(InputError):
        restore_lock(decision=first, by=head.user)
    release_lock(car=car, subject="bonnet", reason="mistake", by=head.user)
    again = restore_lock(decision=first, by=head.user)
    assert (again.option, again.reason) == ("clean", "wish")
    assert again != first
    assert car.decisions.current().get() == again


def test_a_lock_made_meanwhile_stays(car: Car, head: Person):
    first = lock_option(car=car, subject="bonnet", option="clean", reason="wish", by=head.user)
    release_lock(car=car, subject="bonnet", reason="mistake", by=head.user)
    lock_option(car=car, subject="bonnet", option="refinish", reason="rust", by=head.user)
    with pytest.raises(InputError, match="locked it since"):
        restore_lock(decision=first, by=head.user)
    assert car.decisions.current().get().option == "refinish"


def test_an_owner_restores_nothing(car: Car, head: Person, owner: Person):
    reading = car.film_readings.first()
    withdraw_film_reading(reading=reading, reason="wrong panel", by=head.user)
    with pytest.raises(PermissionDenied):
        restore_film_reading(reading=reading, by=owner.user)
