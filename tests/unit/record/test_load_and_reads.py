import hashlib
import io
from dataclasses import replace

import pytest
from django.core.exceptions import PermissionDenied
from tests.unit.record.conftest import small_folder

from asfound.base import InputError
from asfound.record.actions import (
    create_account,
    grant_owner,
    keep_dossier,
    load_car,
    lock_option,
    open_kept_file,
    set_password,
)
from asfound.record.convert.stored import folder_of
from asfound.record.faults import InputFaultsError
from asfound.record.folder import KeptFile, Sheet
from asfound.record.models import Car, Entry, FilmReading, Person
from asfound.record.reads import car_for, cars_for
from asfound.record.shelf import place_of

PHOTO = b"not really a photograph"
SHA256 = hashlib.sha256(PHOTO).hexdigest()


def _with_photo(sha256: str = SHA256):
    kept = KeptFile(path="photos/a.jpg", sha256=sha256, size=len(PHOTO))
    return replace(small_folder(), files=(kept,))


def test_a_photograph_is_found_again_by_its_hash(db):
    car = load_car(folder=_with_photo(), by=None, open_file=lambda kept: io.BytesIO(PHOTO))
    (kept,) = folder_of(car).files
    with open_kept_file(kept) as file:
        assert file.read() == PHOTO
    assert place_of(SHA256).parts[-3:] == ("files", SHA256[:2], SHA256[2:])


def test_bytes_that_do_not_fit_their_hash_are_not_taken(db):
    with pytest.raises(InputFaultsError, match="changed while it was read"):
        load_car(folder=_with_photo("0" * 64), by=None, open_file=lambda _: io.BytesIO(PHOTO))
    with pytest.raises(InputFaultsError, match="not at hand"):
        load_car(folder=_with_photo(), by=None)
    assert not Car.objects.exists()


def test_a_hash_that_is_a_path_opens_nothing():
    with pytest.raises(ValueError, match="not a SHA-256"):
        place_of("../" * 21 + "a")


def test_a_second_car_of_that_name_is_refused(car: Car):
    with pytest.raises(InputFaultsError, match="already"):
        load_car(folder=small_folder(), by=None)
    assert FilmReading.objects.count() == 3


def test_loading_again_keeps_people_observations_and_decisions(
    car: Car, head: Person, owner: Person
):
    grant_owner(car=car, owner=owner, by=head.user)
    lock_option(car=car, subject="bonnet", option="clean", reason="wish", by=head.user)
    changed = small_folder()
    sheets = {k: v for k, v in changed.sheets.items() if k != "options"}
    sheets["film"] = Sheet(columns=changed.sheet("film").columns, rows=())
    load_car(folder=replace(changed, sheets=sheets), by=head.user, replace=True)
    again = Car.objects.get(pk=car.pk)
    assert dict(folder_of(again).sheets) == sheets
    assert list(again.owners.all()) == [owner]
    assert again.film_readings.count() == 3
    assert again.decisions.get().withdrawn_reason
    before = Entry.objects.last().before["tables"]
    assert before["options"]["rows"][1][3] == "0.25"


@pytest.mark.parametrize("text", ["a\0b", "half \ud83d"])
def test_signs_that_no_database_keeps_are_told(db, text):
    odd = Sheet(columns=("bay", "count"), rows=((text, "1"),))
    with pytest.raises(InputFaultsError, match=r"bays.csv, row 2.*no database keeps"):
        load_car(folder=small_folder(sheets={"bays": odd}), by=None, slug="odd")
    with pytest.raises(InputFaultsError, match=r"brief.json"):
        load_car(folder=small_folder(brief={"x": [float("inf")]}), by=None, slug="odd")
    assert not Car.objects.exists()


def test_the_car_is_marked_as_invented_only_where_its_folder_says_so(db):
    plain = load_car(folder=small_folder(), by=None, slug="plain")
    marked = load_car(folder=small_folder(package={"invented": True}), by=None, slug="marked")
    assert (plain.is_invented, marked.is_invented) == (False, True)


def test_an_owner_sees_their_own_cars_only(car: Car, head: Person, owner: Person):
    other = load_car(folder=small_folder(), by=None, slug="other")
    grant_owner(car=other, owner=owner, by=head.user)
    assert list(cars_for(owner.user)) == [other]
    assert set(cars_for(head.user)) == {car, other}
    with pytest.raises(Car.DoesNotExist):
        car_for(owner.user, car.slug)
    assert car_for(owner.user, "other") == other


def test_an_account_without_a_role_sees_nothing(car: Car, django_user_model):
    bare = django_user_model.objects.create_user(username="bare")
    assert not cars_for(bare).exists()


def test_the_list_counts_in_one_query(car: Car, head: Person, django_assert_num_queries):
    load_car(folder=small_folder(), by=None, slug="other")
    lock_option(car=car, subject="bonnet", option="clean", reason="wish", by=head.user)
    with django_assert_num_queries(1):
        told = {
            c.slug: (c.panels_n, c.readings_n, c.subjects_n, c.locks_n) for c in cars_for(head.user)
        }
    assert told == {car.slug: (2, 3, 2, 1), "other": (2, 3, 2, 0)}


@pytest.mark.parametrize(
    ("username", "role", "password"),
    [
        ("head", "head", "walnut-43"),
        ("", "head", "walnut-43"),
        ("new", "king", "walnut-43"),
        ("new", "head", ""),
        ("new", "head", "x"),
        ("new", "head", "password"),
        ("new", "head", "7294610385"),
        ("walnut-burr", "head", "walnut-burr"),
    ],
)
def test_accounts_that_are_not_made(head: Person, username, role, password):
    with pytest.raises(InputError):
        create_account(username=username, role=role, password=password, by=None)
    assert Person.objects.count() == 1


def test_the_workshop_needs_no_grant_and_an_owner_grants_nothing(
    car: Car, head: Person, owner: Person
):
    with pytest.raises(InputError, match="role owner"):
        grant_owner(car=car, owner=head, by=None)
    with pytest.raises(PermissionDenied):
        grant_owner(car=car, owner=owner, by=owner.user)
    assert not car.owners.exists()


def test_a_line_of_the_log_is_neither_saved_again_nor_taken_out(car: Car, head: Person):
    made = keep_dossier(car=car, data=PHOTO, inputs_sha256="0" * 64, by=head.user)
    assert (made.sha256, made.size) == (SHA256, len(PHOTO))
    line = Entry.objects.first()
    with pytest.raises(TypeError, match="append-only"):
        line.save()
    with pytest.raises(TypeError, match="append-only"):
        Entry.objects.update(action="nothing")
    with pytest.raises(TypeError, match="append-only"):
        Entry.objects.all().delete()


def test_a_weak_password_is_not_told_again(head: Person):
    with pytest.raises(InputError, match="too short") as caught:
        set_password(person=head, password="oak-7", by=None)
    assert "oak-7" not in str(caught.value)
    head.user.refresh_from_db()
    assert head.user.check_password("walnut-41")
