"""What was said to a proposal: of one piece, and how it stands."""

from __future__ import annotations

from collections.abc import Sequence

from asfound.record.models import Answer


def said_of(answers: Sequence[Answer], subject: str) -> list[Answer]:
    """Everything said of a piece, or of the whole, in the order it was said."""
    return [answer for answer in answers if answer.subject == subject]


def standing(answers: Sequence[Answer], subject: str) -> str:
    """The owner's last word on a piece: yes, no, or nothing yet.

    A yes to the whole stands for every piece that was answered before it.
    """
    said = ""
    for answer in answers:
        if answer.kind not in (Answer.Kind.YES, Answer.Kind.NO):
            continue
        if answer.subject == subject or (not answer.subject and answer.kind == Answer.Kind.YES):
            said = answer.kind
    return said


def standing_whole(answers: Sequence[Answer], subjects: Sequence[str]) -> str:
    """The owner's last word on the whole; nothing where a piece was refused after a yes to all."""
    said = standing(answers, "")
    refused = any(standing(answers, subject) == Answer.Kind.NO for subject in subjects)
    return "" if said == Answer.Kind.YES and refused else said
