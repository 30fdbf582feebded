"""Variants beside each other, a proposal asked about, answered and signed, and a change order.

The small car's choices are worked out by hand in test_decisions_pages: 88.3 % for 1150 EUR as the
brief stands, 78.3 % for 1000 EUR when the cost is held to 1100.
"""

from __future__ import annotations

import hashlib
import io
import re
from datetime import timedelta
from types import SimpleNamespace

import pikepdf
import pytest
from django.core.exceptions import PermissionDenied
from django.urls import reverse
from django.utils import timezone
from tests.pages.conftest import Cast

from asfound.base import InputError
from asfound.record.actions import (
    answer_proposal,
    lock_option,
    release_lock,
    set_sheet,
    sign_proposal,
)
from asfound.record.models import Answer, Entry, Proposal, Signature

UNSEEN = "0" * 64


def at(cast: Cast, name: str, *rest: object) -> str:
    return reverse(name, args=(cast.car.slug, *rest))


def text_of(response) -> str:
    page = response.content.decode()
    return page.replace("\N{NARROW NO-BREAK SPACE}", " ").replace("\N{NO-BREAK SPACE}", " ")


def keep(cast: Cast, name: str, cost_max: str = ""):
    return cast.head.post(at(cast, "variants"), {"name": name, "note": "", "cost_max": cost_max})


def send(cast: Cast, title: str = "Keep it going") -> Proposal:
    answer = cast.head.post(at(cast, "new-proposal"), {"title": title, "words": "Dear owner."})
    assert answer.status_code == 302, text_of(answer)
    return cast.car.proposals.latest("number")


def say(cast: Cast, who: str, kind: str, subject: str = "", words: str = ""):
    number = cast.car.proposals.latest("number").number
    data = {"kind": kind, "subject": subject, "words": words}
    return getattr(cast, who).post(at(cast, "answer-proposal", number), data)


def sign(cast: Cast, who: str = "owner", name: str = "Ada Invented", seen: str = ""):
    found = cast.car.proposals.latest("number")
    data = {"typed_name": name, "seen": seen or found.document_sha256}
    return getattr(cast, who).post(at(cast, "sign-proposal", found.number), data)


def test_variants_stand_beside_the_choice_with_what_differs(cast: Cast) -> None:
    assert keep(cast, "spare the purse", "1100").status_code == 302
    page = text_of(cast.owner.get(at(cast, "variants")))
    assert "88.3 %" in page
    assert "78.3 %" in page
    assert "1 of 3 pieces differ" in page
    assert "replace with new: renew" in page
    kept = cast.car.variants.get()
    assert kept.brief["cost_max"] == 1100
    page = text_of(cast.owner.get(at(cast, "variant", kept.pk)))
    assert "1 000 EUR" in page


def test_a_variant_needs_a_name_of_its_own_and_a_brief_that_can_be_met(cast: Cast) -> None:
    keep(cast, "one")
    again = keep(cast, "one")
    assert again.status_code == 422
    assert "one that no other variant of the car has" in text_of(again)
    poor = keep(cast, "poor", "10")
    assert poor.status_code == 422
    assert "Nothing satisfies the brief" in text_of(poor)
    assert cast.car.variants.count() == 1


def test_a_variant_is_withdrawn_with_a_reason_and_stays(cast: Cast) -> None:
    keep(cast, "one")
    kept = cast.car.variants.get()
    cast.head.post(at(cast, "withdraw-variant", kept.pk), {"reason": " "})
    kept.refresh_from_db()
    assert kept.withdrawn_at is None
    cast.head.post(at(cast, "withdraw-variant", kept.pk), {"reason": "dear"})
    assert "Withdrawn: “dear”" in text_of(cast.head.get(at(cast, "variant", kept.pk)))
    assert (
        cast.owner.post(at(cast, "withdraw-variant", kept.pk), {"reason": "x"}).status_code == 403
    )


def test_the_owner_reads_asks_agrees_and_signs(cast: Cast) -> None:
    sent = send(cast)
    page = text_of(cast.owner.get(at(cast, "proposal", sent.number)))
    assert "The piece itself is mended with as little new material as will do." in page
    assert "1 150 EUR" in page
    say(cast, "owner", "question", "seats", "Will the smell stay?")
    say(cast, "head", "reply", "seats", "Most of it.")
    say(cast, "owner", "yes", "seats")
    page = text_of(cast.owner.get(at(cast, "proposal", sent.number)))
    assert "Will the smell stay?" in page
    assert "Most of it." in page
    assert sign(cast).status_code == 302
    signature = Signature.objects.get()
    assert signature.typed_name == "Ada Invented"
    assert signature.by.get_username() == "owner"
    page = text_of(cast.head.get(at(cast, "proposal", sent.number)))
    assert signature.signed_sha256 in page
    assert {d.subject: d.option for d in cast.car.decisions.current()} == {
        "seats": "mend",
        "brakes": "overhaul",
        "door finish": "keep",
    }
    assert Entry.objects.filter(action="sign proposal").count() == 1


def offered(cast: Cast) -> dict[str, list[str]]:
    """Answers that the owner's page offers, of each piece and of the whole."""
    number = cast.car.proposals.latest("number").number
    page = text_of(cast.owner.get(at(cast, "proposal", number)))
    forms = re.findall(r'<form [^>]*class="answer[^>]*>.*?</form>', page, re.DOTALL)
    subject, kind = r'name="subject" value="([^"]*)"', r'name="kind" value="(yes|no)"'
    return {re.findall(subject, form)[0]: re.findall(kind, form) for form in forms}


def test_what_was_answered_stands_in_place_of_the_question_and_can_be_changed(cast: Cast) -> None:
    send(cast)
    every = ("seats", "brakes", "door finish", "")
    assert offered(cast) == {name: ["yes", "no"] for name in every}
    say(cast, "owner", "yes")
    assert offered(cast) == {name: ["no"] for name in every}
    say(cast, "owner", "no", "seats", "too new")
    after = offered(cast)
    assert after["seats"] == ["yes"]
    assert after["brakes"] == ["no"]
    assert after[""] == ["yes", "no"]  # the yes to all was taken back of one
    say(cast, "owner", "yes", "seats")
    assert offered(cast)[""] == ["no"]


def test_both_documents_are_kept_under_their_hashes_and_hold_the_signature(cast: Cast) -> None:
    sent = send(cast)
    sign(cast)
    signature = Signature.objects.get()
    for which, sha256 in (
        ("sent", sent.document_sha256),
        ("signed", signature.signed_sha256),
    ):
        answer = cast.owner.get(at(cast, "proposal-document", sent.number, which))
        data = b"".join(answer.streaming_content)
        assert hashlib.sha256(data).hexdigest() == sha256
        with pikepdf.open(io.BytesIO(data)) as pdf:
            assert "proposal.json" in pdf.attachments
    assert signature.document_sha256 == sent.document_sha256


def test_a_change_order_tells_its_effect_and_is_signed_again(cast: Cast) -> None:
    first = send(cast)
    sign(cast)
    head = cast.head_person.user
    release_lock(car=cast.car, subject="brakes", reason="cracked drum", by=head)
    lock_option(car=cast.car, subject="brakes", option="renew", reason="cracked drum", by=head)
    order = send(cast, "Cracked drum")
    assert order.follows == first
    page = text_of(cast.owner.get(at(cast, "proposal", order.number)))
    # By hand: (2.7 + 0.1 + 1.9) / 6 less (2.7 + 0.7 + 1.9) / 6, 350 less 500 EUR, 8 less 14 h.
    assert "\N{MINUS SIGN}10 % of the car against what was signed" in page
    assert "\N{MINUS SIGN}150 EUR against what was signed" in page
    assert "\N{MINUS SIGN}6 h against what was signed" in page
    assert "Changed; it was: overhaul." in page
    assert sign(cast).status_code == 302
    assert Signature.objects.count() == 2


def test_a_no_stands_in_the_way_of_signing_until_it_is_taken_back(cast: Cast) -> None:
    send(cast)
    say(cast, "owner", "no", "brakes", "too dear")
    refused = sign(cast)
    assert refused.status_code == 422
    assert "brakes" in text_of(refused)
    say(cast, "owner", "yes")
    assert sign(cast).status_code == 302


@pytest.mark.parametrize(("who", "status"), [("head", 403), ("craft", 403), ("stranger", 404)])
def test_nobody_signs_for_the_owner(cast: Cast, who: str, status: int) -> None:
    send(cast)
    assert sign(cast, who).status_code == status
    assert not Signature.objects.exists()


def test_a_signature_needs_a_name_and_the_document_that_was_read(cast: Cast) -> None:
    send(cast)
    assert sign(cast, name=" ").status_code == 422
    assert sign(cast, seen=UNSEEN).status_code == 422
    assert not Signature.objects.exists()


def test_what_is_signed_or_withdrawn_is_neither_answered_nor_signed_again(cast: Cast) -> None:
    first = send(cast)
    second = send(cast, "Better so")
    first.refresh_from_db()
    assert first.withdrawn_reason == "another proposal took its place"
    owner = cast.car.owners.get().user
    with pytest.raises(InputError, match="withdrawn"):
        answer_proposal(proposal=first, subject="", kind="yes", words="", by=owner)
    sign(cast)
    with pytest.raises(InputError, match="signed"):
        answer_proposal(proposal=second, subject="", kind="no", words="", by=owner)
    assert sign(cast).status_code == 422


def test_each_side_says_its_own(cast: Cast) -> None:
    found = send(cast)
    assert say(cast, "head", "yes").status_code == 403
    assert say(cast, "owner", "reply", words="x").status_code == 403
    say(cast, "owner", "question", words=" ")
    say(cast, "owner", "yes", subject="gearbox")
    say(cast, "owner", "perhaps")
    assert not Answer.objects.exists()
    with pytest.raises(PermissionDenied):
        sign_proposal(
            proposal=found,
            typed_name="x",
            seen_sha256=found.document_sha256,
            signed_at=found.sent_at,
            document=b"",
            by=cast.head_person.user,
        )


def test_only_the_head_sends(cast: Cast) -> None:
    for who in (cast.craft, cast.owner):
        assert who.get(at(cast, "new-proposal")).status_code == 403
    assert cast.stranger.get(at(cast, "proposals")).status_code == 404


def test_brakes_left_as_found_are_not_sent_without_a_passed_test(cast: Cast) -> None:
    cast.car.options.filter(subject="brakes").update(safe=True)
    cast.car.subjects.filter(subject="brakes").update(min_grade=0)
    head = cast.head_person.user
    lock_option(car=cast.car, subject="brakes", option="leave", reason="look sound", by=head)
    data = {"title": "Leave them", "words": ""}
    refused = cast.head.post(at(cast, "new-proposal"), data)
    assert refused.status_code == 422
    assert "brakes (brakes) is left as found, and no passed test of it is on record" in text_of(
        refused
    )
    row = {"subject": "brakes", "test": "roller bench", "tested_on": "2026-10-01", "by": "mechanic"}
    failed = {**row, "passed": "yes", "tested_on": "2026-09-01"}
    set_sheet(car=cast.car, table="safety_tests", rows=[failed, {**row, "passed": "no"}], by=head)
    assert cast.head.post(at(cast, "new-proposal"), data).status_code == 422
    set_sheet(car=cast.car, table="safety_tests", rows=[{**row, "passed": "yes"}], by=head)
    assert cast.head.post(at(cast, "new-proposal"), data).status_code == 302


def test_a_proposal_from_a_variant_is_the_variant(cast: Cast) -> None:
    keep(cast, "spare the purse", "1100")
    kept = cast.car.variants.get()
    address = at(cast, "new-proposal") + f"?variant={kept.pk}"
    assert cast.head.post(address, {"title": "Cheaper", "words": ""}).status_code == 302
    sent = cast.car.proposals.get()
    assert {p["subject"]: p["option"] for p in sent.content["pieces"]} == kept.options
    assert cast.head.get(at(cast, "new-proposal") + "?variant=999").status_code == 404


def test_the_page_of_a_proposal_reads_few_rows(cast: Cast, django_assert_max_num_queries) -> None:
    sent = send(cast)
    with django_assert_max_num_queries(20):
        cast.owner.get(at(cast, "proposal", sent.number))


def test_a_point_of_the_front_is_set_beside_the_choice(cast: Cast) -> None:
    page = text_of(cast.owner.get(at(cast, "variants") + "?cost=1100"))
    assert "for at most 1 100 EUR" in page
    assert "78.3 %" in page
    assert "Nothing satisfies the brief" in text_of(
        cast.owner.get(at(cast, "variants") + "?cost=10")
    )
    assert cast.owner.get(at(cast, "variants") + "?cost=nan").status_code == 200


def test_the_front_can_be_walked_and_each_point_tells_what_it_changes(cast: Cast) -> None:
    answer = cast.head.get(at(cast, "choice"), headers={"HX-Request": "true"})
    said = [point["said"] for point in answer.context["walk"]]
    said = [words.replace("\N{NARROW NO-BREAK SPACE}", " ") for words in said]
    said = [words.replace("\N{NO-BREAK SPACE}", " ") for words in said]
    assert "keeps 88.3 % for 1 150 EUR; this is the choice" in said
    assert "keeps 78.3 % for 1 000 EUR; other than the choice at brakes" in said


def test_a_proposal_tells_the_day_of_the_plan_that_the_shop_acts_on(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = text_of(cast.head.get(at(cast, "new-proposal")))
    assert "finished by, in 8 of 10 cases" not in page  # nothing is planned
    day = timezone.localdate() + timedelta(days=40)
    shop = SimpleNamespace(cars=[SimpleNamespace(car=cast.car.slug, p80=day)])
    monkeypatch.setattr("asfound.desk.decisions.proposing.adopted_shop", lambda: shop)
    page = text_of(cast.head.get(at(cast, "new-proposal")))
    assert "finished by, in 8 of 10 cases" in page
    assert f"{day:%-d %B %Y}" in page
    shop.cars[0].p80 = timezone.localdate() - timedelta(days=1)  # a plan that nobody acts on
    page = text_of(cast.head.get(at(cast, "new-proposal")))
    assert "finished by, in 8 of 10 cases" not in page


def test_a_change_order_tells_by_how_many_days_the_plan_moves(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    days = iter(["2027-03-01", "2027-03-01", "2027-03-12"])
    monkeypatch.setattr("asfound.desk.decisions.proposing._promise", lambda *_: next(days))
    page = text_of(cast.head.get(at(cast, "new-proposal")))
    assert "1 March 2027" in page
    send(cast)
    sign(cast)
    order = send(cast, "Later")
    page = text_of(cast.owner.get(at(cast, "proposal", order.number)))
    assert "12 March 2027" in page
    assert "+11 days against what was signed" in page
