"""Dissent from a lock on the pages: said, shown to the owner who signs, withdrawn, taken back."""

from __future__ import annotations

import io
import json

import pikepdf
import pytest
from tests.pages.conftest import Cast
from tests.pages.test_variants_and_proposals import at, send, text_of

from asfound.record.actions import lock_option
from asfound.record.models import Observation

REASON, WORDS = "the hide is the first one", "The foam is gone; they will tear within a year."


@pytest.fixture
def locked(cast: Cast) -> Cast:
    head = cast.head_person.user
    lock_option(car=cast.car, subject="seats", option="mend", reason=REASON, by=head)
    return cast


def say(cast: Cast, who: str, words: str = WORDS):
    return getattr(cast, who).post(at(cast, "dissent", "seats"), {"words": words})


def test_another_person_dissents_and_every_page_says_so(locked: Cast) -> None:
    assert "I would decide otherwise" not in text_of(locked.head.get(at(locked, "piece", "seats")))
    assert "I would decide otherwise" in text_of(locked.craft.get(at(locked, "piece", "seats")))
    assert say(locked, "craft").status_code == 302
    for who in (locked.head, locked.craft, locked.owner):
        page = text_of(who.get(at(locked, "piece", "seats")))
        assert "would decide otherwise: “The foam is gone" in page
        page = text_of(who.get(at(locked, "decisions") + "?whole=1"))
        assert page.index("Locked against dissent") < page.index(WORDS)
        assert REASON in page


def test_the_owner_signs_knowing_reason_and_dissent(locked: Cast) -> None:
    say(locked, "craft")
    assert WORDS in text_of(locked.head.get(at(locked, "new-proposal")))
    sent = send(locked)
    page = text_of(locked.owner.get(at(locked, "proposal", sent.number)))
    assert f"Locked by head on {locked.car.decisions.get().day}: “{REASON}”" in page
    assert f"Dissent by trimmer on {Observation.objects.get().cells['said_on']}: “{WORDS}”" in page
    answer = locked.owner.get(at(locked, "proposal-document", sent.number, "sent"))
    with pikepdf.open(io.BytesIO(b"".join(answer.streaming_content))) as pdf:
        content = json.loads(pdf.attachments["proposal.json"].get_file().read_bytes())
    seats = next(piece for piece in content["pieces"] if piece["subject"] == "seats")
    assert WORDS in seats["dissents"][0]


def test_dissent_is_withdrawn_with_a_reason_by_its_own_person_and_back_by_undo(
    locked: Cast,
) -> None:
    say(locked, "craft")
    said = Observation.objects.get(table="dissents")
    address = at(locked, "withdraw-dissent", said.pk)
    assert locked.head.post(address, {"reason": "noted"}).status_code == 403
    locked.craft.post(address, {"reason": ""})
    said.refresh_from_db()
    assert said.counts
    page = text_of(locked.craft.post(address, {"reason": "new foam is agreed"}, follow=True))
    assert "withdrawn: “new foam is agreed”" in page
    undo = at(locked, "undo", "observation", said.pk)
    assert undo in page
    assert locked.head.post(undo).status_code == 403
    locked.craft.post(undo)
    said.refresh_from_db()
    assert said.counts


def test_an_owner_may_dissent_and_a_stranger_finds_nothing(locked: Cast) -> None:
    assert say(locked, "owner", "I want them as new.").status_code == 302
    assert "I want them as new." in text_of(locked.head.get(at(locked, "piece", "seats")))
    assert say(locked, "stranger").status_code == 404
    assert say(locked, "craft", " ").status_code == 302
    assert Observation.objects.filter(table="dissents").count() == 1
