"""Sending a proposal to the owner, and withdrawing it."""

from __future__ import annotations

import io
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.keeps_begun import check_keeps_begun
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_is_head, check_reason
from asfound.record.log import write_entry
from asfound.record.models import Car, Proposal
from asfound.record.shelf import shelve

_WHY_HEAD = "The head of the workshop sends what an owner is to sign."
_REPLACED = "another proposal took its place"


def next_number(car: Car) -> int:
    """Number that the next proposal of the car will bear."""
    last = car.proposals.order_by("-number").first()
    return 1 if last is None else last.number + 1


def last_signed(car: Car) -> Proposal | None:
    """The proposal that stands: the last that was signed."""
    return car.proposals.signed().order_by("-number").first()


def open_proposal(car: Car) -> Proposal | None:
    """The proposal that waits for the owner, if one does."""
    waiting = car.proposals.current().filter(signature__isnull=True)
    return waiting.select_related("follows").order_by("-number").first()


@transaction.atomic
def send_proposal(
    *,
    car: Car,
    title: str,
    words: str,
    content: Mapping[str, Any],
    document: bytes,
    number: int,
    sent_at: datetime,
    by: Any,
) -> Proposal:
    """Proposal that the owner can answer from now on; an open one before it is withdrawn.

    Parameters
    ----------
    car : Car
    title, words : str
        What the workshop calls it, and what it says to the owner.
    content : mapping
        The pieces with what is to be done, and the sums.
    document : bytes
        The PDF that holds it; its hash is what is signed.
    number : int
        As the document bears it.
    sent_at : datetime
    by : user or None

    Raises
    ------
    PermissionDenied
        If it is not the head who sends it.
    InputError
        If it has no title or no piece, another was sent meanwhile, or it changes what was begun
        without being a change order.
    """
    check_is_head(by, _WHY_HEAD)
    take_turn(car)
    _check_told(title, content)
    _check_next(number, car)
    follows = last_signed(car)
    check_keeps_begun(car=car, pieces=content["pieces"], is_change_order=follows is not None)
    for before in car.proposals.current().filter(signature__isnull=True):
        _withdraw(before, reason=_REPLACED, by=by)
    kept = shelve(io.BytesIO(document))
    made = Proposal.objects.create(
        car=car,
        number=number,
        follows=follows,
        title=title.strip(),
        words=words.strip(),
        content=dict(content),
        document_sha256=kept.sha256,
        document_size=kept.size,
        sent_at=sent_at,
        by=by,
    )
    after = {"number": number, "title": made.title, "document_sha256": kept.sha256}
    write_entry(action="send proposal", by=by, car=car, after=after)
    return made


def _check_told(title: str, content: Mapping[str, Any]) -> None:
    if not title.strip():
        raise InputError(field="title", got=title, allowed="given, in a few words")
    if not content.get("pieces"):
        raise InputError(field="pieces", got=0, allowed="one or more")


def _check_next(number: int, car: Car) -> None:
    following = next_number(car)
    if number != following:
        raise InputError(
            field="number",
            got=number,
            allowed=f"{following}, the next of the car",
            remedy="Another proposal was sent meanwhile. Look at it first.",
        )


@transaction.atomic
def withdraw_proposal(*, proposal: Proposal, reason: str, by: Any) -> None:
    """Take an open proposal back.

    Raises
    ------
    PermissionDenied
        If it is not the head who does it.
    InputError
        If there is no reason, or the proposal is signed or withdrawn.
    """
    check_is_head(by, _WHY_HEAD)
    check_reason(reason)
    take_turn(proposal.car)
    proposal = Proposal.objects.get(pk=proposal.pk)
    if not proposal.is_open:
        raise InputError(
            field="proposal", got=proposal.number, allowed="neither signed nor withdrawn"
        )
    _withdraw(proposal, reason=reason.strip(), by=by)
    after = {"number": proposal.number, "reason": reason.strip()}
    write_entry(action="withdraw proposal", by=by, car=proposal.car, after=after)


def _withdraw(proposal: Proposal, *, reason: str, by: Any) -> None:
    proposal.withdrawn_at, proposal.withdrawn_by = timezone.now(), by
    proposal.withdrawn_reason = reason
    proposal.save(update_fields=["withdrawn_at", "withdrawn_by", "withdrawn_reason"])
