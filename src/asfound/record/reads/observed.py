"""On which panels something was observed, in the mm of their outlines."""

from __future__ import annotations

from asfound.record.models import Car

_PLACED = {"metal": "panel", "colour": "panel", "findings": "subject"}
"""Kept tables whose rows have a place on a panel, and the column that names the panel."""


def panels_observed(car: Car) -> frozenset[str]:
    """Names of panels that readings or findings of the car lie on."""
    found = set(car.film_readings.current().values_list("panel", flat=True))
    for sheet in car.kept_sheets.filter(table__in=_PLACED):
        head = car.heads.get(sheet.table, [])
        if _PLACED[sheet.table] in head:
            at = head.index(_PLACED[sheet.table])
            found |= {row[at] for row in sheet.rows if row[at]}
    drawn = set(car.panels.values_list("panel", flat=True))
    return frozenset(found & drawn if drawn else found)
