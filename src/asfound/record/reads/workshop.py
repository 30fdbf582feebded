"""People, bays and closed days of the workshop, and a car as it is planned with them."""

from __future__ import annotations

from asfound.record.convert.stored import folder_of
from asfound.record.convert.workshop import OF_WORKSHOP, sheet_of, with_workshop
from asfound.record.folder import CarFolder, Sheet
from asfound.record.models import Car, Workshop


def workshop() -> Workshop:
    """The tables that count; empty ones where nobody wrote any."""
    return Workshop.objects.last() or Workshop()


def workshop_rows(table: str) -> list[dict[str, str]]:
    """Rows of one of its tables, as cells by column."""
    return [dict(row) for row in getattr(workshop(), table)]


def workshop_sheets() -> dict[str, Sheet]:
    """Its tables that have rows."""
    now = workshop()
    rows = {table: getattr(now, table) for table in OF_WORKSHOP}
    return {table: sheet_of(table, own) for table, own in rows.items() if own}


def planning_folder(car: Car, shared: dict[str, Sheet] | None = None) -> CarFolder:
    """The car as it is planned; ``shared`` are the workshop's tables, where read already."""
    return with_workshop(folder_of(car), workshop_sheets() if shared is None else shared)
