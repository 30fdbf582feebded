"""What belongs to one car."""

from __future__ import annotations

from django.db.models import QuerySet

from asfound.record.models import Brief, Car, FilmReading


def readings_of_panel(car: Car, panel: str) -> QuerySet[FilmReading]:
    """Readings of a panel in their order, those that no longer count among them."""
    return car.film_readings.filter(panel=panel).select_related("superseded_by", "entered_by")


def brief_of(car: Car) -> Brief | None:
    """Brief that counts; ``None`` where the owner set no limit."""
    latest = car.briefs.select_related("by").last()
    return None if latest is None or latest.content is None else latest
