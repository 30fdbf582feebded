"""The workshop's bands of film thickness: added, corrected by a new row, withdrawn."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.utils import timezone

from asfound.base import InputError
from asfound.measure.base_of_films import FilmBand as Band
from asfound.record.actions.who import check_is_head
from asfound.record.convert.film_base import band_of, fields_of_band
from asfound.record.log import write_entry
from asfound.record.models import FilmBand


@transaction.atomic
def add_film_band(*, band: Band, by: Any) -> FilmBand:
    """Row that holds the band.

    Raises
    ------
    PermissionDenied
        If the person is not the head of the workshop.
    InputError
        If the table has that row already.
    """
    check_is_head(by)
    _check_is_new(band)
    row: FilmBand = FilmBand.objects.create(entered_by=by, **fields_of_band(band))
    write_entry(action="add film band", by=by, after=_told(row))
    return row


@transaction.atomic
def correct_film_band(*, row: FilmBand, band: Band, reason: str, by: Any) -> FilmBand:
    """Row that supersedes another; the old one is kept with the reason.

    Raises
    ------
    PermissionDenied
        If the person is not the head of the workshop.
    InputError
        If the row counts no longer, nothing is different, or there is no reason.
    """
    check_is_head(by)
    _check_counts(row, reason)
    _check_is_new(band)
    new: FilmBand = FilmBand.objects.create(entered_by=by, **fields_of_band(band))
    row.superseded_by, row.reason = new, reason.strip()
    row.save(update_fields=["superseded_by", "reason"])
    write_entry(
        action="correct film band",
        by=by,
        before=_told(row),
        after={**_told(new), "reason": row.reason},
    )
    return new


@transaction.atomic
def withdraw_film_band(*, row: FilmBand, reason: str, by: Any) -> None:
    """Let a row count no longer; it is kept with the reason.

    Raises
    ------
    PermissionDenied
        If the person is not the head of the workshop.
    InputError
        If the row counts no longer, or there is no reason.
    """
    check_is_head(by)
    _check_counts(row, reason)
    row.withdrawn_at, row.withdrawn_by = timezone.now(), by
    row.reason = reason.strip()
    row.save(update_fields=["withdrawn_at", "withdrawn_by", "reason"])
    write_entry(action="withdraw film band", by=by, before=_told(row), after={"reason": row.reason})


def _check_counts(row: FilmBand, reason: str) -> None:
    """Hold the row until the transaction ends, so that two corrections cannot both count."""
    if not FilmBand.objects.select_for_update().current().filter(pk=row.pk).exists():
        raise InputError(
            field="band", got=str(row), allowed="one that was not corrected or withdrawn"
        )
    if not reason.strip():
        raise InputError(field="reason", got=reason, allowed="given, in a few words")


def _check_is_new(band: Band) -> None:
    same = FilmBand.objects.current().filter(**fields_of_band(band))
    if same.exists():
        raise InputError(
            field="band",
            got=f"{band.about}, {band.era}: {band.words}",
            allowed="different from every row of the table",
            remedy="The table has exactly this row already.",
        )


def _told(row: FilmBand) -> dict[str, Any]:
    return {"band": row.pk} | fields_of_band(band_of(row))
