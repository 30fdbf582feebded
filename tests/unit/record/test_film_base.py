"""The workshop's base of film builds: only with consent, and withdrawn without a trace in sums."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction
from django.utils import timezone
from tests.unit.record.conftest import small_folder

from asfound.base import Estimate, InputError
from asfound.measure.base_of_films import CarBuild
from asfound.record.actions import (
    contribute_film_build,
    create_account,
    load_car,
    withdraw_film_build,
)
from asfound.record.derived import expected_build
from asfound.record.models import Car, Entry, FilmBuild, Person
from asfound.record.reads import build_given, builds_beside, builds_gone, film_builds

AGREED = date(2026, 5, 2)


@pytest.fixture
def another(db: None) -> Car:
    return load_car(folder=small_folder(), slug="another", by=None)


def _give(car: Car, **changed: object) -> FilmBuild:
    given = {
        "kind": "hand-finished saloon",
        "year": 1958.0,
        "level_um": Estimate(value=500.0, u=20.0),
        "consent_by": "Miss Ardel Voss",
        "consent_on": AGREED,
        "by": None,
    }
    return contribute_film_build(car=car, **{**given, **changed})


def test_a_level_is_given_with_consent_and_logged(car: Car, head: Person):
    row = _give(car, by=head.user)
    assert (row.level_um, row.u_log) == (500, pytest.approx(0.04))
    entry = Entry.objects.get(action="give film level to base")
    assert (entry.who, entry.after["consent_by"], entry.after["consent_on"]) == (
        "head",
        "Miss Ardel Voss",
        "2026-05-02",
    )


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"consent_by": " "}, "consent"),
        ({"consent_on": timezone.localdate() + timedelta(days=2)}, "today or a day before"),
        ({"kind": ""}, "kind"),
        ({"year": 60.0}, "year"),
        ({"level_um": Estimate(value=500.0, u=0.0)}, "u_log"),
    ],
)
def test_without_consent_or_with_odd_numbers_nothing_is_given(car: Car, changed: dict, words: str):
    with pytest.raises(InputError, match=words):
        _give(car, **changed)
    assert not FilmBuild.objects.exists()
    assert not Entry.objects.filter(action="give film level to base").exists()


def test_the_record_itself_refuses_a_row_without_consent(car: Car):
    with pytest.raises(IntegrityError), transaction.atomic():
        FilmBuild.objects.create(
            car=car, kind="k", year=1958, level_um=1, u_log=1, consent_by="", consent_on=AGREED
        )


def test_an_owner_account_writes_nothing(car: Car, owner: Person):
    with pytest.raises(PermissionDenied):
        _give(car, by=owner.user)
    with pytest.raises(PermissionDenied):
        withdraw_film_build(car=car, reason="x", by=owner.user)


def test_the_car_itself_is_left_out_of_what_is_expected_of_it(car: Car, another: Car):
    _give(car, level_um=Estimate(value=900.0, u=20.0))
    _give(another)
    assert builds_beside(car) == (
        CarBuild(
            car="another", kind="hand-finished saloon", year=1958.0, level_um=500.0, u_log=0.04
        ),
    )
    found = expected_build(builds_beside(car), kind="hand-finished saloon", year=1958.0)
    assert (found.cars_n, found.kind_cars_n) == (1, 1)
    assert found.low_um < 500 < found.high_um
    assert "it rests on 1 car of this workshop, 1 of this kind" in found.words


def test_giving_anew_replaces_and_keeps_the_old(car: Car):
    _give(car)
    _give(car, level_um=Estimate(value=520.0, u=10.0))
    assert build_given(car).level_um == 520
    (gone,) = builds_gone(car)
    assert (gone.level_um, gone.reason) == (500, "the car's level was given anew")
    assert film_builds().count() == 1


def test_withdrawn_consent_takes_the_car_out_and_keeps_the_row(car: Car, another: Car):
    _give(another)
    with pytest.raises(InputError, match="reason"):
        withdraw_film_build(car=another, reason=" ", by=None)
    withdraw_film_build(car=another, reason="the owner wants it out", by=None)
    assert builds_beside(car) == ()
    assert FilmBuild.objects.get().reason == "the owner wants it out"
    assert Entry.objects.get(action="withdraw film level").before["level_um"] == 500
    with pytest.raises(InputError, match="in the base"):
        withdraw_film_build(car=another, reason="again", by=None)


def test_two_levels_of_one_car_cannot_both_count(car: Car):
    row = _give(car)
    row.pk = None
    row._state.adding = True
    with pytest.raises(IntegrityError), transaction.atomic():
        row.save()


def test_a_craftsperson_may_give(car: Car):
    craft = create_account(username="craft", role="craftsperson", password="walnut-43", by=None)
    assert _give(car, by=craft.user).entered_by == craft.user
