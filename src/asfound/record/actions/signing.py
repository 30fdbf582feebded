"""What the owner does with a proposal: asks, answers, and signs."""

from __future__ import annotations

import io
from datetime import datetime
from typing import Any

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.keeps_begun import check_keeps_begun
from asfound.record.actions.reopen import end_reopened
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import is_owner_of
from asfound.record.log import write_entry
from asfound.record.models import Answer, Decision, Proposal, Signature
from asfound.record.shelf import shelve

_OWNER_ANSWERS = (Answer.Kind.YES, Answer.Kind.NO, Answer.Kind.QUESTION)
_SIGNED_OVER = "the owner signed another way"


def check_can_answer(*, proposal: Proposal, subject: str, kind: str, by: Any) -> None:
    """Raise the reason why the person cannot say this to the proposal.

    Raises
    ------
    PermissionDenied
        If an owner replies for the workshop, the workshop answers for the owner, or a stranger
        does either.
    InputError
        If the proposal is signed or withdrawn, or has no such piece.
    """
    if kind not in Answer.Kind.values:
        raise InputError(field="kind", got=kind, allowed=", ".join(Answer.Kind.values))
    owner = is_owner_of(proposal.car, by)
    person = getattr(by, "person", None)
    of_workshop = person is not None and by.is_active and not person.is_owner
    if kind in _OWNER_ANSWERS and not owner:
        raise PermissionDenied("The owner of the car answers a proposal; the workshop replies.")
    if kind == Answer.Kind.REPLY and not of_workshop:
        raise PermissionDenied("The workshop replies; the owner asks and answers.")
    _check_open(proposal)
    pieces = [piece["subject"] for piece in proposal.content["pieces"]]
    if subject and subject not in pieces:
        raise InputError(field="subject", got=subject, allowed="a piece of the proposal")


@transaction.atomic
def answer_proposal(*, proposal: Proposal, subject: str, kind: str, words: str, by: Any) -> Answer:
    """Answer, question or reply, of one piece or (with no subject) of the whole.

    Raises
    ------
    PermissionDenied, InputError
        As :func:`check_can_answer`, and if a question or a reply has no words.
    """
    take_turn(proposal.car)
    proposal = Proposal.objects.get(pk=proposal.pk)
    check_can_answer(proposal=proposal, subject=subject, kind=kind, by=by)
    if kind in (Answer.Kind.QUESTION, Answer.Kind.REPLY) and not words.strip():
        raise InputError(field="words", got=words, allowed="given, in a few words")
    said = Answer.objects.create(
        proposal=proposal, subject=subject, kind=kind, words=words.strip(), by=by
    )
    after = {"number": proposal.number, "subject": subject, "kind": kind, "words": said.words}
    write_entry(action="answer proposal", by=by, car=proposal.car, after=after)
    return said


def refused_pieces(proposal: Proposal) -> list[str]:
    """Pieces to which the owner last said no; the empty name stands for the whole."""
    last: dict[str, str] = {}
    for answer in proposal.answers.filter(kind__in=("yes", "no")):
        if not answer.subject and answer.kind == Answer.Kind.YES:
            last = {}
        last[answer.subject] = answer.kind
    return [subject for subject, kind in last.items() if kind == Answer.Kind.NO]


def check_can_sign(*, proposal: Proposal, by: Any) -> None:
    """Raise the reason why the person cannot sign.

    Raises
    ------
    PermissionDenied
        If the person is not an owner of the car.
    InputError
        If the proposal is signed or withdrawn, the owner said no to some of it, or work began on
        a piece that it changes since it was sent.
    """
    if not is_owner_of(proposal.car, by):
        raise PermissionDenied("The owner of the car signs, from their own account.")
    _check_open(proposal)
    refused = refused_pieces(proposal)
    if refused:
        raise InputError(
            field="the owner's answer",
            got="no to " + ", ".join(name or "the whole" for name in refused),
            allowed="without a no",
            remedy="Say yes where you have changed your mind, or wait for a changed proposal.",
        )
    check_keeps_begun(
        car=proposal.car,
        pieces=proposal.content["pieces"],
        is_change_order=proposal.follows_id is not None,
    )


def _check_meant(proposal: Proposal, *, typed_name: str, seen_sha256: str) -> None:
    """Refuse a signature without a name, or under another document than the one that was sent."""
    if not typed_name.strip():
        raise InputError(field="typed_name", got=typed_name, allowed="your name, typed out")
    if seen_sha256 != proposal.document_sha256:
        raise InputError(
            field="seen_sha256",
            got=seen_sha256,
            allowed="that of the document as sent",
            remedy="Open the page again and read it before you sign.",
        )


@transaction.atomic
def sign_proposal(
    *,
    proposal: Proposal,
    typed_name: str,
    seen_sha256: str,
    signed_at: datetime,
    document: bytes,
    by: Any,
) -> Signature:
    """Signature under a proposal; each piece is decided as it says from now on.

    What the findings held that it names is held no longer.

    Parameters
    ----------
    proposal : Proposal
    typed_name : str
        The owner's name as they typed it.
    seen_sha256 : str
        Hash of the document that the owner had before them.
    signed_at : datetime
    document : bytes
        The PDF with the signature in it.
    by : user

    Raises
    ------
    PermissionDenied, InputError
        As :func:`check_can_sign`, and if no name was typed or another document was seen.
    """
    take_turn(proposal.car)
    proposal = Proposal.objects.get(pk=proposal.pk)
    check_can_sign(proposal=proposal, by=by)
    _check_meant(proposal, typed_name=typed_name, seen_sha256=seen_sha256)
    kept = shelve(io.BytesIO(document))
    signature = Signature.objects.create(
        proposal=proposal,
        typed_name=typed_name.strip(),
        document_sha256=proposal.document_sha256,
        signed_sha256=kept.sha256,
        signed_size=kept.size,
        signed_at=signed_at,
        by=by,
    )
    _decide(proposal, by=by)
    end_reopened(proposal=proposal, by=by)
    after = {
        "number": proposal.number,
        "typed_name": signature.typed_name,
        "document_sha256": signature.document_sha256,
        "signed_sha256": kept.sha256,
    }
    write_entry(action="sign proposal", by=by, car=proposal.car, after=after)
    return signature


def _check_open(proposal: Proposal) -> None:
    if not proposal.is_open:
        raise InputError(
            field="proposal",
            got=f"{proposal.number}, {'signed' if proposal.is_signed else 'withdrawn'}",
            allowed="open",
            remedy="See whether a newer one was sent.",
        )


def _decide(proposal: Proposal, *, by: Any) -> None:
    """Lock every piece to what was signed; a lock that says the same stays as it is."""
    car = proposal.car
    standing = {d.subject: d for d in car.decisions.current()}
    named = set(car.options.values_list("subject", "option"))
    what = f"signed in {'change order' if proposal.follows_id else 'proposal'} {proposal.number}"
    for piece in proposal.content["pieces"]:
        subject, option = piece["subject"], piece["option"]
        before = standing.get(subject)
        if (subject, option) not in named or (before and before.option == option):
            continue
        if before:
            before.withdrawn_at, before.withdrawn_by = timezone.now(), by
            before.withdrawn_reason = _SIGNED_OVER
            before.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason"])
        made = Decision.objects.create(car=car, subject=subject, option=option, reason=what, by=by)
        # Decided when it was signed, which may have been entered later.
        made.decided_at = proposal.signature.signed_at
        made.save(update_fields=["decided_at"])
