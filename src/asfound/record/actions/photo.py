"""Photographs: kept by their content, sorted, marked and paired by rows that supersede others."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils import timezone

from asfound.base import InputError
from asfound.record.actions.observation import widen_head
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_may_write
from asfound.record.log import write_entry
from asfound.record.models import Car, KeptFile, Photo
from asfound.record.tables import TABLES

STAGES = TABLES["photos"].column("stage").words
_CHANGED = ("subject", "view", "stage", "x_mm", "y_mm", "note", "marks", "pair")
_COLUMNS = ("file", "sha256", "taken_at", "by", *_CHANGED)


@transaction.atomic
def keep_photo(
    *,
    car: Car,
    sha256: str,
    size: int,
    suffix: str,
    subject: str,
    view: str,
    stage: str,
    by: Any,
    taken_at: str = "",
    note: str = "",
) -> Photo:
    """Row for a photograph whose bytes are on the shelf; one that the car has already stays.

    Parameters
    ----------
    car : Car
    sha256 : str
    size : int
    suffix : str
        Of the file's name: ``.jpg``, ``.png``, ``.heic``.
    subject, view, stage : str
        What it shows, how, and when in the work.
    by : user or None
    taken_at : str
        As the camera wrote it.
    note : str

    Raises
    ------
    PermissionDenied
        If the person may only read.
    InputError
        If the stage is not known.
    """
    check_may_write(by)
    _check_stage(stage)
    take_turn(car)
    there: Photo | None = car.photos.current().filter(sha256=sha256).first()
    if there is not None:
        return there
    path = f"photos/{sha256}{suffix}"
    KeptFile.objects.get_or_create(car=car, path=path, defaults={"sha256": sha256, "size": size})
    last = car.photos.aggregate(last=Max("position"))["last"]
    photo = Photo.objects.create(
        car=car,
        position=0 if last is None else last + 1,
        file=path,
        sha256=sha256,
        subject=subject,
        view=view,
        stage=stage,
        taken_at=taken_at,
        by="" if by is None else by.get_username(),
        note=note,
        entered_by=by,
    )
    widen_head(car, "photos", [_told(photo)])
    write_entry(action="keep photograph", by=by, car=car, after=_told(photo))
    return photo


@transaction.atomic
def change_photo(*, photo: Photo, reason: str, by: Any, **changed: Any) -> Photo:
    """Photograph sorted, marked or paired anew; the row before stays with the reason.

    Parameters
    ----------
    photo : Photo
    reason : str
    by : user or None
    **changed
        Among ``subject``, ``view``, ``stage``, ``x_mm``, ``y_mm``, ``note``, ``marks``, ``pair``.

    Raises
    ------
    InputError
        If it counts no longer, the reason is empty, or anything else is to be changed.
    """
    _take_turn_to_end(photo, reason, by)
    for name, value in changed.items():
        if name not in _CHANGED:
            raise InputError(field=name, got=value, allowed=", ".join(_CHANGED))
    _check_stage(changed.get("stage", photo.stage))
    fields = {name: getattr(photo, name) for name in _COLUMNS} | changed
    new = Photo.objects.create(
        car=photo.car, position=photo.position, extra=photo.extra, entered_by=by, **fields
    )
    photo.superseded_by, photo.reason = new, reason.strip()
    photo.save(update_fields=["superseded_by", "reason"])
    widen_head(photo.car, "photos", [_told(new)])
    write_entry(
        action="change photograph", by=by, car=photo.car, before=_told(photo), after=_told(new)
    )
    return new


@transaction.atomic
def withdraw_photo(*, photo: Photo, reason: str, by: Any) -> None:
    """Let a photograph be shown no longer; its bytes stay, with the reason.

    Raises
    ------
    InputError
        If it counts no longer already, or the reason is empty.
    """
    _take_turn_to_end(photo, reason, by)
    photo.withdrawn_at, photo.withdrawn_by = timezone.now(), by
    photo.reason = reason.strip()
    photo.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(
        action="withdraw photograph",
        by=by,
        car=photo.car,
        before=_told(photo),
        after={"why": photo.reason},
    )


def _take_turn_to_end(photo: Photo, reason: str, by: Any) -> None:
    check_may_write(by)
    take_turn(photo.car)
    if not Photo.objects.current().filter(pk=photo.pk).exists():
        raise InputError(
            field="photograph", got=photo.file, allowed="one that was not changed or withdrawn"
        )
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")


def _check_stage(stage: str) -> None:
    if stage not in STAGES:
        raise InputError(field="stage", got=stage, allowed=", ".join(STAGES))


def _told(photo: Photo) -> dict[str, Any]:
    """Cells of the row, those left empty not among them."""
    told = {name: getattr(photo, name) for name in _COLUMNS}
    return {name: value for name, value in told.items() if value not in ("", None)}
