"""A piece by its number, as pages ask for it."""

from __future__ import annotations

from django.http import Http404

from asfound.record.models import SalvageRow, SalvageUse


def find_row(number: str) -> SalvageRow:
    """Description of the piece that counts, or its last one where it was withdrawn."""
    rows = SalvageRow.objects.filter(piece__number=number, superseded_by=None)
    found: SalvageRow | None = rows.select_related("piece", "entered_by").first()
    if found is None:
        raise Http404(number)
    return found


def uses_of(row: SalvageRow) -> list[SalvageUse]:
    """What is reserved and used of a piece, the latest first."""
    uses = SalvageUse.objects.current().filter(piece=row.piece_id)
    return list(uses.select_related("car", "entered_by").order_by("-pk"))


def ended_of(row: SalvageRow) -> list[SalvageUse]:
    """What was given back of a piece, or became a use, the latest first."""
    uses = SalvageUse.objects.filter(piece=row.piece_id)
    ended = uses.exclude(withdrawn_at=None, superseded_by=None)
    return list(ended.select_related("car", "entered_by").order_by("-pk")[:100])
