"""What of the salvage stock is reserved for a car or was used on it."""

from __future__ import annotations

from asfound.record.convert.salvage_used import MaterialUse
from asfound.record.models import Car, SalvageRow, SalvageUse


def material_of(car: Car) -> tuple[MaterialUse, ...]:
    """Uses and reservations of the car that count, in the order they were written."""
    uses = list(
        SalvageUse.objects.current()
        .filter(car=car)
        .select_related("piece", "entered_by")
        .order_by("pk")
    )
    rows = SalvageRow.objects.filter(superseded_by=None, piece__in=[use.piece_id for use in uses])
    described = {row.piece_id: row for row in rows}
    return tuple(_use(use, described[use.piece_id]) for use in uses)


def _use(use: SalvageUse, row: SalvageRow) -> MaterialUse:
    much = str(use.count) if use.count is not None else "a cut" if use.outline_wkt else "all of it"
    return MaterialUse(
        number=use.piece.number,
        name=row.name,
        kind=row.kind,
        from_car=row.source_car,
        made=row.made,
        what=use.what,
        much=much,
        part=use.part,
        need=use.need,
        day=use.entered_at.date().isoformat(),
        by=use.entered_by.get_username() if use.entered_by else "",
    )
