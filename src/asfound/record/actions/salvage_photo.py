"""Photographs of pieces of the salvage stock: kept, withdrawn, shown again."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.who import check_may_write, check_reason
from asfound.record.log import write_entry
from asfound.record.models import SalvagePhoto, SalvagePiece


@transaction.atomic
def keep_salvage_photo(
    *, piece: SalvagePiece, sha256: str, size: int, suffix: str, by: Any, taken_at: str = ""
) -> SalvagePhoto:
    """Photograph of a piece, whose bytes are on the shelf; one that it has already stays.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    there: SalvagePhoto | None = (
        SalvagePhoto.objects.current().filter(piece=piece, sha256=sha256).first()
    )
    if there is not None:
        return there
    photo: SalvagePhoto = SalvagePhoto.objects.create(
        piece=piece, sha256=sha256, size=size, suffix=suffix, taken_at=taken_at, entered_by=by
    )
    write_entry(
        action="keep salvage photograph",
        by=by,
        after={"number": piece.number, "file": str(photo)},
    )
    return photo


@transaction.atomic
def withdraw_salvage_photo(*, photo: SalvagePhoto, reason: str, by: Any) -> None:
    """Let a photograph of a piece be shown no longer; its bytes stay, with the reason.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is shown no longer already, or the reason is empty.
    """
    check_may_write(by)
    check_reason(reason)
    if not SalvagePhoto.objects.current().filter(pk=photo.pk).exists():
        raise InputError(field="photograph", got=str(photo), allowed="one that is shown")
    photo.withdrawn_at, photo.withdrawn_by = timezone.now(), by
    photo.reason = reason.strip()
    photo.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(
        action="withdraw salvage photograph",
        by=by,
        before={"number": photo.piece.number, "file": str(photo)},
        after={"why": photo.reason},
    )


@transaction.atomic
def restore_salvage_photo(*, photo: SalvagePhoto, by: Any) -> None:
    """Let a withdrawn photograph of a piece be shown again.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If it is not withdrawn, or was sent in once more since.
    """
    check_may_write(by)
    held = SalvagePhoto.objects.filter(pk=photo.pk, withdrawn_at__isnull=False).first()
    again = SalvagePhoto.objects.current().filter(piece=photo.piece, sha256=photo.sha256)
    if held is None or again.exists():
        raise InputError(
            field="photograph", got=str(photo), allowed="one that was not sent in again since"
        )
    held.withdrawn_at = held.withdrawn_by = None
    held.reason = ""
    held.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(
        action="restore salvage photograph",
        by=by,
        after={"number": held.piece.number, "file": str(held)},
    )
