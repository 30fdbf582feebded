"""What the owner of the invented car has signed: the pieces that work begins with."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from django.contrib.auth import get_user_model

from asfound.choose import choose
from asfound.demo.written import written
from asfound.dossier.proposal import Head, Signed, make_proposal
from asfound.record.actions import next_number, send_proposal, sign_proposal
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.proposal import proposal_content
from asfound.record.convert.stored import folder_of
from asfound.record.models import Car

_TITLE = "What we begin with"
_WORDS = (
    "Invented. These pieces cannot wait, or hold up the others. The rest of the car stays open "
    "and comes in a second proposal, when it is apart."
)
_SENT = datetime(2024, 3, 25, 16, 0, tzinfo=UTC)
_SIGNED = datetime(2024, 3, 28, 19, 30, tzinfo=UTC)
_OWNER = "Perrin Aldous (invented)"


def sign_first(car: Car, *, head: str, owner: str) -> None:
    """Send the first proposal from the head's account and sign it from the owner's."""
    users = {user.get_username(): user for user in get_user_model().objects.all()}
    content = _content(car)
    named = Head(
        car=folder_of(car).name,
        invented=car.is_invented,
        number=next_number(car),
        title=_TITLE,
        words=_WORDS,
        sent_on=_SENT.date(),
    )
    proposal = send_proposal(
        car=car,
        title=_TITLE,
        words=_WORDS,
        content=content,
        document=make_proposal(content, head=named),
        number=named.number,
        sent_at=_SENT,
        by=users[head],
    )
    signed = Signed(
        typed_name=_OWNER,
        account=owner,
        at=_SIGNED,
        document_sha256=proposal.document_sha256,
    )
    sign_proposal(
        proposal=proposal,
        typed_name=_OWNER,
        seen_sha256=proposal.document_sha256,
        signed_at=_SIGNED,
        document=make_proposal(content, head=named, signed=signed),
        by=users[owner],
    )


def _content(car: Car) -> dict[str, Any]:
    """Sums over the whole car as it would be chosen that day; pieces only those to begin with."""
    folder = folder_of(car)
    problem = choice_problem(folder)
    first = {row["subject"]: row for row in written("signed")}
    options: Mapping[str, str] = {
        **choose(problem).options,
        **{subject: row["option"] for subject, row in first.items()},
    }
    reasons = {subject: row["because"] for subject, row in first.items()}
    content = proposal_content(folder, problem, options, reasons=reasons)
    content["pieces"] = [one for one in content["pieces"] if one["subject"] in first]
    return content
