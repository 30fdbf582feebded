"""The invented workshop's people and bays; a workshop that has its own keeps them."""

from __future__ import annotations

from dataclasses import replace

from asfound.demo.days import AS_WRITTEN, Days
from asfound.demo.written import written
from asfound.record.actions.workshop import set_workshop
from asfound.record.folder import CarFolder
from asfound.record.models import Workshop

_TABLES = ("people", "bays", "closed_days")


def keep_crew(*, days: Days = AS_WRITTEN) -> None:
    """Enter people, bays and closed days, unless the workshop has its own."""
    if Workshop.objects.exists():
        return
    for table in _TABLES:
        set_workshop(table=table, rows=days.rows(written(table)), by=None)


def without_crew(folder: CarFolder) -> CarFolder:
    """A car whose people and bays are those of the workshop."""
    kept = {name: sheet for name, sheet in folder.sheets.items() if name not in _TABLES}
    return replace(folder, sheets=kept)
