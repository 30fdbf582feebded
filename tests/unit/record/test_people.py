"""People: invited, let in by PIN, let out with a reason; owners see what the head releases."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.contrib.auth import authenticate
from django.core.exceptions import PermissionDenied
from django.core.signing import Signer
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions import (
    accept_invitation,
    add_tablet,
    change_role,
    close_car_to_owner,
    create_account,
    grant_owner,
    invite,
    release_room,
    restore_access,
    set_password,
    set_pin,
    try_pin,
    withdraw_access,
    withdraw_invitation,
    withdraw_release,
    withdraw_tablet,
)
from asfound.record.actions.pin import PIN_TRIES
from asfound.record.invitation_link import invitation_of, token_of
from asfound.record.log import check_chain
from asfound.record.models import Car, Entry, Invitation, Person, Tablet
from asfound.record.reads.people import (
    cars_with_room,
    people_with_pin,
    rooms_open_to,
    tablet_of_key,
)


@pytest.fixture
def craft(db: None) -> Person:
    return create_account(username="trimmer", role="craftsperson", password="walnut-43", by=None)


@pytest.fixture
def tablet(head: Person) -> Tablet:
    return add_tablet(name="bench by the door", by=head.user)[0]


def last() -> Entry:
    return Entry.objects.order_by("pk").last()


def test_access_is_withdrawn_with_a_reason_and_given_back(head: Person, craft: Person):
    with pytest.raises(InputError, match="reason"):
        withdraw_access(person=craft, reason="  ", by=head.user)
    withdraw_access(person=craft, reason="left the workshop", by=head.user)
    assert authenticate(username="trimmer", password="walnut-43") is None
    assert (last().action, last().after) == ("withdraw access", {"reason": "left the workshop"})
    with pytest.raises(InputError):
        withdraw_access(person=craft, reason="again", by=head.user)
    restore_access(person=craft, by=head.user)
    assert authenticate(username="trimmer", password="walnut-43") == craft.user
    assert Person.objects.filter(pk=craft.pk).exists()
    assert check_chain().broken is None


def test_whoever_lost_access_writes_nothing_from_a_page_that_is_still_open(
    car: Car, head: Person, craft: Person
):
    other = create_account(username="second", role="head", password="walnut-44", by=None)
    withdraw_access(person=other, reason="left", by=head.user)
    other.user.refresh_from_db()
    with pytest.raises(PermissionDenied):
        release_room(car=car, room="survey", by=other.user)


def test_the_last_head_stays(head: Person, craft: Person):
    with pytest.raises(InputError, match="only head"):
        withdraw_access(person=head, reason="x", by=head.user)
    with pytest.raises(InputError, match="only head"):
        change_role(person=head, role="craftsperson", reason="x", by=head.user)
    change_role(person=craft, role="head", reason="takes over", by=head.user)
    withdraw_access(person=head, reason="retires", by=craft.user)
    assert Person.objects.current().get().role == "head"


def test_only_the_head_keeps_people(car: Car, head: Person, craft: Person, owner: Person):
    tries = (
        lambda by: create_account(username="x", role="owner", password="walnut-9", by=by),
        lambda by: withdraw_access(person=owner, reason="x", by=by),
        lambda by: change_role(person=owner, role="head", reason="x", by=by),
        lambda by: invite(whom="x", role="head", by=by),
        lambda by: add_tablet(name="x", by=by),
        lambda by: grant_owner(car=car, owner=owner, by=by),
        lambda by: release_room(car=car, room="survey", by=by),
        lambda by: set_password(person=head, password="walnut-burr-9", by=by),
        lambda by: set_pin(person=head, pin="4831", by=by),
    )
    for act in tries:
        for by in (craft.user, owner.user):
            with pytest.raises(PermissionDenied):
                act(by)
    set_password(person=craft, password="walnut-burr-9", by=craft.user)
    assert authenticate(username="trimmer", password="walnut-burr-9") == craft.user


def test_an_invitation_makes_one_account_with_its_role_and_cars(car: Car, head: Person):
    made = invite(whom="the owner", role="owner", cars=[car], by=head.user)
    found = invitation_of(token_of(made))
    assert found == made
    person = accept_invitation(invitation=found, username="ada", password="walnut-burr-9")
    assert (person.role, list(person.cars.all())) == ("owner", [car])
    assert (last().action, last().who) == ("accept invitation", "ada")
    with pytest.raises(InputError, match="used once"):
        invitation_of(token_of(made))
    with pytest.raises(InputError, match="not used"):
        accept_invitation(invitation=found, username="eve", password="walnut-burr-9")
    assert Person.objects.filter(user__username="eve").count() == 0


def test_a_link_that_is_old_withdrawn_or_not_ours_opens_nothing(head: Person):
    old = invite(whom="late", role="craftsperson", by=head.user, lasts=timedelta(seconds=-1))
    gone = invite(whom="wrong person", role="craftsperson", by=head.user)
    withdraw_invitation(invitation=gone, reason="sent to the wrong address", by=head.user)
    good = invite(whom="right", role="craftsperson", by=head.user)
    forged = Signer(key="another key", salt="asfound.invitation").sign_object(
        {"invitation": good.pk, "role": "head", "cars": [], "until": "x"}
    )
    for token in (token_of(old), token_of(gone), forged, "", "a:b", token_of(good)[:-1]):
        with pytest.raises(InputError):
            invitation_of(token)


def test_a_link_is_good_for_the_role_that_it_was_signed_with(head: Person):
    made = invite(whom="trimmer", role="craftsperson", by=head.user)
    token = token_of(made)
    Invitation.objects.filter(pk=made.pk).update(role="head")
    with pytest.raises(InputError):
        invitation_of(token)


def test_cars_belong_to_owners_alone(car: Car, head: Person):
    with pytest.raises(InputError, match="unless the role is owner"):
        invite(whom="x", role="craftsperson", cars=[car], by=head.user)
    with pytest.raises(InputError):
        invite(whom="x", role="king", by=head.user)
    with pytest.raises(InputError):
        invite(whom=" ", role="head", by=head.user)


@pytest.mark.parametrize(
    "pin", ["123", "123456789", "12a4", "1111", "1234", "987654", "", "٤٨٣١", "48 31"]
)
def test_pins_that_are_not_taken(craft: Person, pin: str):
    with pytest.raises(InputError) as caught:
        set_pin(person=craft, pin=pin, by=craft.user)
    assert not pin or pin not in str(caught.value)


def test_a_pin_lets_in_and_is_kept_as_a_password_is(craft: Person, tablet: Tablet):
    set_pin(person=craft, pin="4831", by=craft.user)
    craft.refresh_from_db()
    assert "4831" not in craft.pin_hash
    assert "4831" not in str(last().after)
    assert try_pin(person=craft, pin="4831", tablet=tablet)
    assert not try_pin(person=craft, pin="4832", tablet=tablet)
    assert list(people_with_pin()) == [craft]


def test_ten_wrong_pins_in_a_row_close_it(craft: Person, tablet: Tablet):
    set_pin(person=craft, pin="4831", by=craft.user)
    for _ in range(PIN_TRIES - 1):
        assert not try_pin(person=craft, pin="0000", tablet=tablet)
    assert try_pin(person=craft, pin="4831", tablet=tablet)
    for _ in range(PIN_TRIES):
        try_pin(person=craft, pin="0000", tablet=tablet)
    assert not try_pin(person=craft, pin="4831", tablet=tablet)
    assert (last().action, last().who) == ("close PIN", "tablet bench by the door")
    assert check_chain().broken is None


def test_owners_have_no_pin_and_lose_it_with_the_role(head: Person, craft: Person, owner: Person):
    with pytest.raises(InputError, match="workshop"):
        set_pin(person=owner, pin="4831", by=head.user)
    set_pin(person=craft, pin="4831", by=head.user)
    change_role(person=craft, role="owner", reason="bought the car", by=head.user)
    assert not people_with_pin().exists()


def test_a_tablet_is_known_by_its_key_until_it_is_withdrawn(head: Person):
    tablet, key = add_tablet(name="paint shop", by=head.user)
    assert tablet_of_key(key) == tablet
    assert tablet_of_key("") is None
    assert key not in str(last().after) + tablet.key_sha256
    withdraw_tablet(tablet=tablet, reason="lost", by=head.user)
    assert tablet_of_key(key) is None
    with pytest.raises(InputError):
        withdraw_tablet(tablet=tablet, reason="lost", by=head.user)


def test_an_owner_sees_what_is_released_and_the_workshop_everything(
    car: Car, head: Person, owner: Person
):
    grant_owner(car=car, owner=owner, by=head.user)
    assert rooms_open_to(owner, car) == frozenset()
    first = release_room(car=car, room="survey", by=head.user)
    assert release_room(car=car, room="survey", by=head.user) == first
    assert rooms_open_to(owner, car) == {"survey"}
    withdraw_release(car=car, room="survey", reason="readings are checked again", by=head.user)
    assert rooms_open_to(owner, car) == frozenset()
    assert rooms_open_to(head, car) == {"survey", "decisions", "parts", "dossier", "money"}
    assert rooms_open_to(None, car) == frozenset()
    kept = car.releases.get()
    assert (kept.released_by, kept.withdrawn_reason) == (head.user, "readings are checked again")
    for room in ("survey", "kitchen"):
        with pytest.raises(InputError):
            withdraw_release(car=car, room=room, reason="x", by=head.user)
    with pytest.raises(InputError):
        release_room(car=car, room="kitchen", by=head.user)


def test_a_car_is_closed_to_an_owner_with_a_reason(car: Car, head: Person, owner: Person):
    grant_owner(car=car, owner=owner, by=head.user)
    close_car_to_owner(car=car, owner=owner, reason="sold", by=head.user)
    assert not car.owners.exists()
    assert last().after == {"username": "owner", "reason": "sold"}
    with pytest.raises(InputError):
        close_car_to_owner(car=car, owner=owner, reason="sold", by=head.user)


def test_invitations_lapse_by_themselves(head: Person):
    invite(whom="late", role="owner", by=head.user, lasts=timedelta(days=-1))
    good = invite(whom="new", role="owner", by=head.user)
    assert list(Invitation.objects.open()) == [good]
    assert good.expires_at > timezone.now()


def test_over_many_cars_an_owner_finds_what_is_released(car: Car, head: Person, owner: Person):
    grant_owner(car=car, owner=owner, by=head.user)
    release_room(car=car, room="survey", by=head.user)
    assert list(cars_with_room(owner.user, "survey")) == [car]
    assert list(cars_with_room(owner.user, "parts")) == []
    assert list(cars_with_room(head.user, "parts")) == [car]
    withdraw_release(car=car, room="survey", reason="not ready", by=head.user)
    assert list(cars_with_room(owner.user, "survey")) == []
