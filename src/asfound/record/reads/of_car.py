"""What belongs to one car."""

from __future__ import annotations

from django.db.models import QuerySet

from asfound.record.models import Brief, Car, Decision, FilmReading


def readings_of_panel(car: Car, panel: str) -> QuerySet[FilmReading]:
    """Readings of a panel in their order, those that no longer count among them."""
    return car.film_readings.filter(panel=panel).select_related("superseded_by", "entered_by")


def decisions_of(car: Car) -> QuerySet[Decision]:
    """Decisions that count, in the order in which they were taken."""
    return car.decisions.current().select_related("by")


def brief_of(car: Car) -> Brief | None:
    """Brief that counts; ``None`` where the owner set no limit."""
    latest = car.briefs.select_related("by").last()
    return None if latest is None or latest.content is None else latest


def gauges_of(car: Car) -> tuple[str, ...]:
    """Names of the gauges, those on the shims first."""
    shims = car.shim_readings.values_list("gauge", flat=True)
    film = car.film_readings.current().values_list("gauge", flat=True)
    return tuple(name for name in dict.fromkeys([*shims, *film]) if name)
