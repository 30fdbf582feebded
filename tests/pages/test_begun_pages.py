"""Pages of a piece on which work has begun: why it is held, and the one way to change it."""

from __future__ import annotations

import pytest
from tests.pages.conftest import Cast
from tests.pages.test_variants_and_proposals import at, keep, send, sign, text_of

from asfound.record.actions import add_observations, keep_variant, withdraw_observation
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.proposal import sums_of
from asfound.record.convert.stored import folder_of

SEWING = {"task": "S1", "subject": "seats", "person": "Issy", "from_at": "2026-11-25T08:00:00Z"}
WORDS = "ork began on 2026-11-25, by Issy"


@pytest.fixture
def begun(cast: Cast) -> Cast:
    """The choice signed by the owner, then the seats begun; a variant that would renew them."""
    options = {"seats": "renew", "brakes": "overhaul", "door finish": "keep"}
    sums = sums_of(folder := folder_of(cast.car), choice_problem(folder), options)
    keep_variant(car=cast.car, name="new seats", options=options, sums=sums, brief=None, by=None)
    send(cast)
    sign(cast)
    add_observations(car=cast.car, table="worked", rows=[SEWING], by=None)
    return cast


def test_the_piece_says_why_it_is_held_with_the_observation_one_click_away(begun: Cast) -> None:
    page = text_of(begun.head.get(at(begun, "piece", "seats")))
    assert f"W{WORDS}" in page
    address = f"{at(begun, 'treatment-record')}?subject=seats"
    assert f'href="{address}"' in page
    assert "Issy, since" in text_of(begun.head.get(address))
    assert "Release, let the choice decide" not in page
    assert "Lock this one" not in page
    page = text_of(begun.owner.get(at(begun, "piece", "seats")))
    assert f"W{WORDS}" in page
    assert address not in page
    page = text_of(begun.head.get(at(begun, "decisions") + "?whole=1"))
    assert f'href="{address}"' in page


def test_neither_lock_nor_release_moves_it(begun: Cast) -> None:
    sent = {"option": "renew", "reason": "after all"}
    refused = begun.head.post(at(begun, "lock", "seats"), sent)
    assert refused.status_code == 422
    assert WORDS in text_of(refused)
    begun.head.post(at(begun, "release", "seats"), {"reason": "after all"})
    assert begun.car.decisions.current().get(subject="seats").option == "mend"


def test_variants_keep_it_and_an_older_one_says_that_it_does_not(begun: Cast) -> None:
    old = begun.car.variants.get()
    page = text_of(begun.owner.get(at(begun, "variant", old.pk)))
    assert "only a change order that the owner signs" in page
    assert "begun</" in text_of(begun.head.get(at(begun, "variants")))
    keep(begun, "still cheaper", "1200")
    assert begun.car.variants.latest("pk").options["seats"] == "mend"


def test_a_change_order_for_it_is_asked_for_told_signed_and_holds(begun: Cast) -> None:
    address = at(begun, "new-proposal") + "?piece=seats&option=renew"
    assert WORDS in text_of(begun.head.get(address))
    sent = begun.head.post(address, {"title": "New seats", "words": "The frame is broken."})
    assert sent.status_code == 302
    order = begun.car.proposals.latest("number")
    page = text_of(begun.owner.get(at(begun, "proposal", order.number)))
    assert f"W{WORDS}. Signing changes what was begun." in page
    assert begun.car.decisions.current().get(subject="seats").option == "mend"
    assert sign(begun).status_code == 302
    assert begun.car.decisions.current().get(subject="seats").option == "renew"
    begun.head.post(at(begun, "release", "seats"), {"reason": "after all"})
    assert begun.car.decisions.current().get(subject="seats").option == "renew"


def test_what_began_after_an_order_was_sent_is_not_signed_over_unseen(cast: Cast) -> None:
    send(cast)
    sign(cast)
    address = at(cast, "new-proposal") + "?piece=seats&option=renew"
    cast.head.post(address, {"title": "New seats", "words": ""})
    (row,) = add_observations(car=cast.car, table="worked", rows=[SEWING], by=None)
    refused = sign(cast)
    assert refused.status_code == 422
    assert WORDS in text_of(refused)
    withdraw_observation(observation=row, reason="wrong card", by=None)
    assert sign(cast).status_code == 302


def test_an_option_that_is_none_cannot_be_asked_for(begun: Cast) -> None:
    for query in ("?piece=seats&option=gild", "?piece=brakes&option=leave"):
        assert begun.head.get(at(begun, "new-proposal") + query).status_code == 404
