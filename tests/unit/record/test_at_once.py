"""Several people at the same moment: the log does not fork, a link is used once, a head stays."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from threading import Barrier

import pytest
from django.db import connection
from tests.unit.record.conftest import small_folder

from asfound.base import InputError
from asfound.record.actions import (
    accept_invitation,
    add_parts,
    create_account,
    invite,
    load_car,
    lock_option,
    move_parts,
    move_parts_together,
    release_room,
    set_brief,
    set_pin,
    try_pin,
    withdraw_access,
)
from asfound.record.actions.pin import PIN_TRIES
from asfound.record.log import check_chain
from asfound.record.models import Car, Entry, Invitation, Part, Person, Tablet

PEOPLE = 8

pytestmark = pytest.mark.django_db(transaction=True)


def at_once(*acts: Callable[[], object]) -> list[object]:
    """What each act gives or raises, all begun together, each on a connection of its own."""
    start = Barrier(len(acts))

    def run(act: Callable[[], object]) -> object:
        try:
            start.wait(timeout=30)
            return act()
        except InputError as error:
            return error
        finally:
            connection.close()

    with ThreadPoolExecutor(len(acts)) as threads:
        return list(threads.map(run, acts))


@pytest.fixture
def two_heads(transactional_db: None) -> tuple[Person, Person]:
    first, second = (
        create_account(username=name, role="head", password="walnut-41", by=None)
        for name in ("head", "second")
    )
    return first, second


def test_the_log_of_many_writers_is_one_chain(transactional_db: None, car: Car, head: Person):
    before = Entry.objects.count()
    at_once(
        *(
            lambda cost=cost: [
                set_brief(car=Car.objects.get(), content={"cost_max": cost + n}, by=head.user)
                for n in range(5)
            ]
            for cost in range(PEOPLE)
        )
    )
    chain = check_chain()
    assert chain.broken is None
    assert chain.lines_n == before + 5 * PEOPLE
    told = list(Entry.objects.filter(action="set brief").order_by("pk"))
    assert [line.before for line in told[1:]] == [line.after for line in told[:-1]]


def test_a_link_makes_one_account_however_often_it_is_followed_at_once(two_heads):
    made = invite(whom="x", role="craftsperson", by=two_heads[0].user)
    done = at_once(
        *(
            lambda name=name: accept_invitation(
                invitation=Invitation.objects.get(pk=made.pk),
                username=f"guest-{name}",
                password="walnut-burr-9",
            )
            for name in range(4)
        )
    )
    assert sum(isinstance(one, Person) for one in done) == 1
    assert Person.objects.filter(role="craftsperson").count() == 1


def test_two_heads_who_withdraw_each_other_do_not_lock_the_workshop_out(two_heads):
    first, second = two_heads
    done = at_once(
        lambda: withdraw_access(person=Person.objects.get(pk=second.pk), reason="x", by=None),
        lambda: withdraw_access(person=Person.objects.get(pk=first.pk), reason="x", by=None),
    )
    assert Person.objects.current().filter(role="head").count() == 1
    assert sum(isinstance(one, InputError) for one in done) == 1


def test_wrong_pins_at_once_are_all_counted(two_heads):
    head = two_heads[0]
    set_pin(person=head, pin="4831", by=None)
    tablet = Tablet.objects.create(name="x", key_sha256="0" * 64)
    at_once(
        *(lambda: try_pin(person=head, pin="0000", tablet=tablet) for _ in range(PIN_TRIES - 1))
    )
    assert Person.objects.get(pk=head.pk).pin_wrong_n == PIN_TRIES - 1


def test_a_room_is_released_once_and_a_subject_locked_once(
    transactional_db: None, car: Car, head: Person
):
    at_once(
        *(lambda: release_room(car=Car.objects.get(), room="survey", by=None) for _ in range(4)),
        *(
            lambda option=option: lock_option(
                car=Car.objects.get(), subject="bonnet", option=option, reason="x", by=None
            )
            for option in ("clean", "refinish")
        ),
    )
    assert car.releases.count() == 1
    assert car.decisions.current().count() == 1
    assert check_chain().broken is None


def test_a_part_that_several_move_at_once_lies_where_its_last_move_says(
    transactional_db: None, car: Car
):
    (part,) = add_parts(car=car, rows=[{"name": "lamp rim", "place": "Box 0"}], by=None)
    boxes = [f"Box {n}" for n in range(1, PEOPLE)]
    seen = [car.parts.get(pk=part.pk) for _ in boxes]  # each has the page of before open
    at_once(
        *(
            lambda one=one, box=box: move_parts(parts=[one], to_place=box, by=None)
            for one, box in zip(seen, boxes, strict=True)
        )
    )
    moves = [row.cells for row in car.observations.filter(table="moves").order_by("position")]
    assert sorted(move["to_place"] for move in moves) == sorted(["Box 0", *boxes])
    assert [m["from_place"] for m in moves] == ["", *(m["to_place"] for m in moves[:-1])]
    assert car.parts.get(pk=part.pk).place == moves[-1]["to_place"]
    assert check_chain().broken is None


def test_parts_of_two_cars_are_scanned_by_several_at_once(transactional_db: None, car: Car):
    other = load_car(folder=small_folder(), by=None, slug="other")
    rows = [{"name": f"clip {n}"} for n in range(PEOPLE)]
    ours, theirs = (add_parts(car=one, rows=rows, by=None) for one in (car, other))
    pairs = [
        (a, b) if number % 2 else (b, a)
        for number, (a, b) in enumerate(zip(ours, theirs, strict=True))
    ]
    for box in ("Box 1", "Box 2", "Box 3"):
        done = at_once(
            *(
                lambda pair=pair, box=box: move_parts_together(parts=pair, to_place=box, by=None)
                for pair in pairs
            ),
            lambda box=box: move_parts(parts=ours[:1], to_place=box, by=None),
        )
        assert done == [2] * PEOPLE + [1]
    assert set(Part.objects.values_list("place", flat=True)) == {"Box 3"}
    assert check_chain().broken is None
