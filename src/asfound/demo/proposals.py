"""What the owner of the invented car was asked: what is signed, and what waits for an answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from django.contrib.auth import get_user_model

from asfound.choose import choose
from asfound.demo.days import Days
from asfound.demo.written import written, written_json
from asfound.dossier.proposal import Head, Signed, make_proposal
from asfound.exchange.photographs import picture_on_shelf
from asfound.record.actions import (
    answer_proposal,
    last_signed,
    next_number,
    send_proposal,
    sign_proposal,
)
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.proposal import proposal_content
from asfound.record.models import Car, Proposal
from asfound.record.reads.workshop import planning_folder


def propose(car: Car, *, head: str, owner: str, days: Days) -> None:
    """Send each proposal from the head's account; sign it, or ask about it, from the owner's."""
    users = {user.get_username(): user for user in get_user_model().objects.all()}
    told = written_json("proposals")
    for words in told["sent"]:
        proposal, named = _send(car, words, days, by=users[head])
        if "signed_at" in words:
            signed = Signed(
                typed_name=told["owner"],
                account=owner,
                at=days.at(words["signed_at"]),
                document_sha256=proposal.document_sha256,
            )
            _sign(proposal, named, signed, by=users[owner])
        if "asked" in words:
            subject, question = words["asked"]
            answer_proposal(
                proposal=proposal, subject=subject, kind="question", words=question, by=users[owner]
            )


def _send(car: Car, words: Mapping[str, Any], days: Days, *, by: Any) -> tuple[Proposal, Head]:
    before, sent_at = last_signed(car), days.at(words["sent_at"])
    named = Head(
        car=planning_folder(car).name,
        invented=car.is_invented,
        number=next_number(car),
        title=words["title"],
        words=words["words"],
        sent_on=sent_at.date(),
        follows=str(before) if before else "",
    )
    content = _content(car, named.number, before)
    proposal = send_proposal(
        car=car,
        title=named.title,
        words=named.words,
        content=content,
        document=make_proposal(content, head=named, picture=picture_on_shelf),
        number=named.number,
        sent_at=sent_at,
        by=by,
    )
    return proposal, named


def _sign(proposal: Proposal, named: Head, signed: Signed, *, by: Any) -> None:
    sign_proposal(
        proposal=proposal,
        typed_name=signed.typed_name,
        seen_sha256=proposal.document_sha256,
        signed_at=signed.at,
        document=make_proposal(
            proposal.content, head=named, signed=signed, picture=picture_on_shelf
        ),
        by=by,
    )


def _content(car: Car, number: int, before: Proposal | None) -> dict[str, Any]:
    """Sums over the whole car as it would be chosen around the pieces that are proposed."""
    folder = planning_folder(car)
    problem = choice_problem(folder)
    named = {row["subject"]: row for row in written("proposed") if int(row["number"]) <= number}
    proposed = [
        replace(s, locked_option=named[s.subject]["option"]) if s.subject in named else s
        for s in problem.subjects
    ]
    return proposal_content(
        folder,
        problem,
        choose(replace(problem, subjects=tuple(proposed))).options,
        reasons={subject: row["because"] for subject, row in named.items()},
        signed=before.content if before else None,
        asked=named,
    )
