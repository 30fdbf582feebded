"""A change order for one piece: what it asks for, what it takes along, and what it turns.

The small car's choice is worked out by hand in test_reopened_pages: seats mended for 400, brakes
overhauled for 500 and the door finish kept for 250 EUR, 1150 in all.
"""

from __future__ import annotations

from django.http import HttpResponse
from tests.pages.conftest import Cast
from tests.pages.test_reopened_pages import enter, held, own_home, page, seats
from tests.pages.test_variants_and_proposals import at, send, sign

from asfound.record.actions import piece_options, set_brief, set_piece_options
from asfound.record.models import Part, Proposal

__all__ = ["own_home", "seats"]
RENEW = "?piece=seats&option=renew"


def sign_seats_alone(cast: Cast) -> None:
    """What is signed speaks of the seats; the other two pieces are open."""
    send(cast)
    sign(cast)
    signed = cast.car.proposals.get()
    signed.content["pieces"] = [p for p in signed.content["pieces"] if p["subject"] == "seats"]
    signed.save()
    cast.car.decisions.exclude(subject="seats").delete()


def asked_of(answer: HttpResponse) -> dict[str, str]:
    """Pieces and options that an order would put to the owner."""
    return {p["subject"]: p["option"] for p in answer.context["content"]["pieces"]}  # type: ignore[attr-defined]


def order(cast: Cast, query: str) -> Proposal:
    sent = cast.head.post(at(cast, "new-proposal") + query, {"title": "Seats", "words": ""})
    assert sent.status_code == 302
    return cast.car.proposals.latest("number")


def test_an_order_for_one_piece_leaves_open_what_nobody_signed(cast: Cast) -> None:
    sign_seats_alone(cast)
    shown = cast.head.get(at(cast, "new-proposal") + RENEW)
    assert asked_of(shown) == {"seats": "renew"}
    assert "2 pieces that the owner has not signed stay open" in page(
        cast.head, at(cast, "new-proposal") + RENEW
    )
    everything = cast.head.get(at(cast, "new-proposal") + f"?{shown.context['put_otherwise']}")
    assert set(asked_of(everything)) == {"seats", "brakes", "door finish"}
    assert b"2 of them the owner has not signed yet." in everything.content
    assert len(asked_of(cast.head.get(at(cast, "new-proposal")))) == 3
    order(cast, RENEW)
    assert sign(cast).status_code == 302
    now = dict(cast.car.decisions.current().values_list("subject", "option"))
    assert now == {"seats": "renew"}
    signed = at(cast, "proposal", 2)
    assert "The tasks of the plan stand as they were." in page(cast.head, signed)
    assert "The tasks of the plan stand as they were." not in page(cast.owner, signed)


def test_an_order_takes_along_what_one_that_waits_changes(cast: Cast) -> None:
    send(cast)
    sign(cast)
    first = order(cast, RENEW)
    brakes = at(cast, "new-proposal") + "?piece=brakes&option=renew"
    assert asked_of(cast.head.get(brakes)) | {"door finish": ""} == {
        "seats": "renew",
        "brakes": "renew",
        "door finish": "",
    }
    told = page(cast.head, brakes)
    assert f"{first}</a> waits for the owner and is withdrawn when this is sent" in told
    assert "seats (renew)" in told
    alone = cast.head.get(brakes + "&alone=1")
    assert asked_of(alone)["seats"] == "mend"
    assert b"What it changes is not in this one: seats (renew)." in alone.content
    whole = cast.head.get(at(cast, "new-proposal"))
    assert asked_of(whole)["seats"] == "mend"
    taken = cast.head.get(at(cast, "new-proposal") + f"?{whole.context['waits_query']}")
    assert asked_of(taken)["seats"] == "renew"
    assert len(asked_of(taken)) == 3
    assert b"is not in this one" not in taken.content


def test_the_same_work_with_more_of_it_is_a_change_that_settles_the_finding(
    cast: Cast, seats: Part
) -> None:
    send(cast)
    sign(cast)
    enter(cast, seats, reopens="on")
    hold = held(cast)
    address = at(cast, "reopened", hold.pk)
    assert f"{at(cast, 'edit-options', 'seats')}?back={hold.pk}" in page(
        cast.head, address + "?whole=1"
    )
    assert "A finding reopens this" in page(cast.head, at(cast, "piece", "seats"))
    assert "A finding reopens this" not in page(cast.owner, at(cast, "piece", "seats"))
    _with_numbers(cast, cost="420", hours_trimmer="15")
    tight = page(cast.head, address + "?whole=1")
    assert "cost at most 1,150: would have to become 1,170" in tight
    assert f"{at(cast, 'edit-brief')}?back={hold.pk}" in tight
    set_brief(car=cast.car, content={**cast.car.briefs.last().content, "cost_max": 1200}, by=None)
    (now,) = [e for e in cast.head.get(address + "?whole=1").context["effects"] if e.is_signed]
    assert (now.is_as_signed, now.change["cost"], now.change["hours"]) == (False, 20, 3)
    sent = order(cast, "?piece=seats&option=mend")
    read = page(cast.owner, at(cast, "proposal", sent.number))
    assert "Changed; it was: repair, with other numbers. It kept 90 % for 12 h and 400" in (
        read.replace('<span class="soft small">', "")
    )
    assert "What stands as it was signed: 2 pieces" in read
    assert "Why: found at work: crack, across the frame" in read
    assert sign(cast).status_code == 302
    assert held(cast).cells["note"] == f"change order {sent.number} is signed"


def test_each_way_names_the_pieces_that_it_turns(cast: Cast, seats: Part) -> None:
    """With 1050 EUR the seats are mended and the brakes renewed, 400 + 350 + 250.

    New seats for 300 leave enough to overhaul the brakes: 300 + 500 + 250.
    """
    sign_seats_alone(cast)
    enter(cast, seats, reopens="on")
    set_brief(car=cast.car, content={**cast.car.briefs.last().content, "cost_max": 1050}, by=None)
    address = at(cast, "reopened", held(cast).pk) + "?whole=1"
    ways = {e.option.option: e for e in cast.head.get(address).context["effects"]}
    assert ways["mend"].turns == ()
    assert ways["renew"].turns == (("brakes", "renew", "overhaul"),)
    assert "lift the lock: seats" not in ways["leave"].refusal
    assert "renew → overhaul" in page(cast.head, address)


def _with_numbers(cast: Cast, **numbers: str) -> None:
    rows = piece_options(cast.car, "seats")
    more = [{**row, **numbers} if row["option"] == "mend" else row for row in rows]
    set_piece_options(car=cast.car, subject="seats", rows=more, by=None, seen=rows)
