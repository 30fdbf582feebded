"""On which panels something was observed, in the mm of their outlines."""

from __future__ import annotations

from asfound.record.models import Car


def panels_observed(car: Car) -> frozenset[str]:
    """Names of panels that readings or findings of the car lie on."""
    found = set(car.film_readings.current().values_list("panel", flat=True))
    found |= set(car.observations.current().values_list("subject", flat=True))
    findings = car.kept_sheets.filter(table="findings").first()
    head = car.heads.get("findings", [])
    if findings is not None and "subject" in head:
        at = head.index("subject")
        found |= {row[at] for row in findings.rows if row[at]}
    drawn = set(car.panels.values_list("panel", flat=True))
    return frozenset(found & drawn if drawn else found)
