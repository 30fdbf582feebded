"""The first page: what waits for somebody, over all cars, and the rooms of the workshop."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone
from tests.pages.conftest import Cast

from asfound.desk.cars.waiting import SHOWN
from asfound.record.actions import add_parts, send_out, withdraw_release
from asfound.record.actions.worked import start_work
from asfound.record.models import Answer, Proposal

pytestmark = pytest.mark.django_db


def home(client) -> str:
    return client.get(reverse("cars")).content.decode()


@pytest.fixture
def sent(cast: Cast) -> Proposal:
    return Proposal.objects.create(
        car=cast.car,
        number=1,
        title="Keep it going",
        content={"pieces": []},
        document_sha256="0" * 64,
        document_size=1,
        sent_at=timezone.now() - timedelta(days=3),
    )


def say(proposal: Proposal, kind: str, words: str = "", subject: str = "seats") -> None:
    Answer.objects.create(proposal=proposal, subject=subject, kind=kind, words=words)


def test_nothing_waits_where_nothing_was_sent(cast: Cast) -> None:
    assert "Waiting for" not in home(cast.head)


def test_a_question_of_the_owner_waits_until_it_is_replied_to(cast: Cast, sent: Proposal) -> None:
    say(sent, "question", "May the hide stay?")
    page = home(cast.head)
    assert "The owner asks" in page
    assert "seats: “May the hide stay?”" in page
    assert reverse("proposal", args=(cast.car.slug, 1)) in page
    say(sent, "reply", "It does.")
    assert "The owner asks" not in home(cast.head)


def test_a_no_waits_for_the_workshop_and_a_yes_does_not(cast: Cast, sent: Proposal) -> None:
    say(sent, "no")
    assert "The owner does not agree" in home(cast.head)
    say(sent, "yes")
    assert "The owner does not agree" not in home(cast.head)


def test_the_owner_is_told_what_to_read_in_rooms_they_may_enter(cast: Cast, sent: Proposal) -> None:
    page = home(cast.owner)
    assert "Waiting for you" in page
    assert "Proposal to read and sign" in page
    assert "3 days" in page
    assert "Proposal to read" not in home(cast.stranger)
    sheet = cast.owner.get(reverse("car", args=(cast.car.slug,))).content.decode()
    assert reverse("proposal", args=(cast.car.slug, 1)) in sheet
    assert "Proposal to read and sign" in sheet
    withdraw_release(car=cast.car, room="decisions", reason="not yet", by=cast.head_person.user)
    assert "Proposal to read" not in home(cast.owner)


def test_a_signed_or_withdrawn_proposal_waits_for_nobody(cast: Cast, sent: Proposal) -> None:
    assert "Not signed yet" in home(cast.head)
    Proposal.objects.update(withdrawn_at=timezone.now())
    assert "Waiting for" not in home(cast.head)


def test_an_errand_past_its_day_and_a_clock_left_running_wait(cast: Cast) -> None:
    (part,) = add_parts(car=cast.car, rows=[{"name": "seat spring"}], by=None)
    sent, due = (timezone.localdate() - timedelta(days=days) for days in (20, 4))
    cells = {"to": "Brisk Plating", "work": "zinc plating"}
    send_out(parts=[part], cells={**cells, "sent_on": str(sent), "due_on": str(due)}, by=None)
    then = timezone.now() - timedelta(days=2)
    start_work(car=cast.car, cells={"task": "S1", "person": "Issy"}, by=None, at=then)
    page = home(cast.head)
    assert "Overdue from outside" in page
    assert "zinc plating at Brisk Plating" in page
    assert "4 days" in page
    assert "Clock still running" in page
    assert "Overdue" not in home(cast.owner)


def test_the_list_is_bounded_and_says_how_much_more_there_is(cast: Cast, sent: Proposal) -> None:
    for n in range(SHOWN + 3):
        say(sent, "question", "why?", subject=f"piece {n}")
    page = home(cast.head)
    assert page.count("The owner asks") == SHOWN
    assert "4 more stand on the pages" in page  # three questions and the signature


def test_the_rooms_of_the_workshop_stand_on_its_pages_and_not_for_owners(cast: Cast) -> None:
    for name in ("cars", "todays-cards", "places", "all-errands", "salvage", "film-bands"):
        page = cast.head.get(reverse(name)).content.decode()
        assert f'href="{reverse(name)}" aria-current="page"' in page
    assert "Rooms of the workshop" not in home(cast.owner)


def test_a_card_shows_the_car_unfolded(cast: Cast) -> None:
    drawing = cast.head.get(reverse("car-miniature", args=(cast.car.slug,))).content.decode()
    assert drawing.count("M") == 3  # an outline for each of the three panels
    assert cast.stranger.get(reverse("car-miniature", args=(cast.car.slug,))).status_code == 404
