"""A finding that changes what was signed: the piece is held until a person has settled it."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.hold import end_hold, set_hold
from asfound.record.actions.proposal import last_signed
from asfound.record.convert.findings import Finding, finding_of
from asfound.record.convert.holds import HEAD, HOLDS, hold_of
from asfound.record.models import Car, Observation, Proposal
from asfound.record.reads.findings import versions_of
from asfound.record.reads.piece_at import names_at

THOUGHT_TO_LAST = timedelta(days=7)
"""Until the head has seen it and the owner has signed (common practice, no source)."""


def signed_piece(car: Car, subject: str) -> str:
    """Piece of the signed proposal that a panel or part is, or is a part of; empty if none is."""
    signed = last_signed(car)
    pieces = {piece["subject"] for piece in signed.content["pieces"]} if signed else set()
    return next((name for name in names_at(car, subject) if name in pieces), "") if pieces else ""


def reopening_hold(finding: Observation) -> Observation | None:
    """Hold by which a finding, as it reads now or read before, reopens a decision still."""
    words = {_words(finding_of(one.cells)) for one in versions_of(finding)}
    rows = finding.car.observations.current().filter(
        table=HOLDS,
        subject=signed_piece(finding.car, finding.subject),
        cells__finding__in=words,
    )
    return next((row for row in rows if hold_of(row.cells).is_open), None)


@transaction.atomic
def reopen_decision(*, finding: Observation, by: Any) -> Observation:
    """Hold of every open task of the piece, for the head to see what was found.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the finding counts no longer, nothing signed decides its piece, or it is reopened.
    """
    piece = signed_piece(finding.car, finding.subject)
    if not piece:
        raise InputError(
            field="reopens",
            got=f"{finding.subject}, on which nothing is signed",
            allowed="a finding on a piece that the owner has signed",
        )
    if not finding.counts or reopening_hold(finding) is not None:
        raise InputError(
            field="reopens",
            got="one that counts no longer or is reopened",
            allowed="one that counts",
        )
    words = _words(finding_of(finding.cells))
    cells = {
        "subject": piece,
        "kind": HEAD,
        "why": f"a finding reopens what was decided: {words}",
        "expected": (timezone.localdate() + THOUGHT_TO_LAST).isoformat(),
        "finding": words,
        "photo": finding.cells.get("photo", ""),
    }
    made = set_hold(car=finding.car, cells=cells, by=by)
    assert made is not None, "without a key every hold is written"
    return made


def end_reopened(*, proposal: Proposal, by: Any) -> None:
    """End the holds whose findings a signed change order names; the notes name the order."""
    named = {
        (p["subject"], one) for p in proposal.content["pieces"] for one in p.get("findings", ())
    }
    for row in proposal.car.observations.current().filter(table=HOLDS):
        hold = hold_of(row.cells)
        if hold.reopens and (hold.subject, hold.finding) in named:
            note = f"change order {proposal.number} is signed"
            end_hold(row, note=note, by=by, at=proposal.signature.signed_at)


def _words(finding: Finding) -> str:
    return f"{finding.told}: {finding.note}" if finding.note else finding.told
