"""Kinds of findings that the workshop adds, and withdraws again with a reason."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.craft.conditions import KINDS
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import FindingKind


@transaction.atomic
def add_finding_kind(*, word: str, group: str = "", says: str = "", by: Any) -> FindingKind:
    """Word that all cars of the workshop are offered from now on.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If there is no word, or it is offered already.
    """
    check_may_write(by)
    word = " ".join(word.split())
    if not word:
        raise InputError(field="word", got=word, allowed="a word or two of the trade")
    there = word.casefold() in {kind.word.casefold() for kind in KINDS}
    if there or FindingKind.objects.current().filter(word__iexact=word).exists():
        raise InputError(field="word", got=word, allowed="one that is not offered yet")
    made: FindingKind = FindingKind.objects.create(
        word=word, group=group.strip(), says=says.strip(), entered_by=by
    )
    after = {"word": made.word, "group": made.group, "says": made.says}
    write_entry(action="add kind of finding", by=by, after=after)
    return made


@transaction.atomic
def withdraw_finding_kind(*, kind: FindingKind, reason: str, by: Any) -> None:
    """Offer a word no longer; findings that bear it keep it.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is withdrawn already, or there is no reason.
    """
    check_may_write(by)
    if not FindingKind.objects.select_for_update().current().filter(pk=kind.pk).exists():
        raise InputError(field="word", got=kind.word, allowed="one that is still offered")
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")
    kind.withdrawn_at, kind.withdrawn_by = timezone.now(), by
    kind.reason = reason.strip()
    kind.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    before, after = {"word": kind.word}, {"reason": kind.reason}
    write_entry(action="withdraw kind of finding", by=by, before=before, after=after)
