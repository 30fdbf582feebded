"""The workshop's own base of film builds, of which every car gave its level with consent."""

from __future__ import annotations

from django.db.models import QuerySet

from asfound.measure.base_of_films import CarBuild
from asfound.record.convert.film_base import build_of
from asfound.record.models import Car, FilmBuild


def film_builds() -> QuerySet[FilmBuild]:
    """Cars of the base that count, by kind and year."""
    counting: QuerySet[FilmBuild] = FilmBuild.objects.current()
    return counting.select_related("car", "entered_by").order_by("kind", "year", "pk")


def builds_beside(car: Car) -> tuple[CarBuild, ...]:
    """The base as the core has it, the car itself left out."""
    return tuple(build_of(row) for row in film_builds().exclude(car=car))


def build_given(car: Car) -> FilmBuild | None:
    """What the car itself gave and that counts."""
    return film_builds().filter(car=car).first()


def builds_gone(car: Car) -> QuerySet[FilmBuild]:
    """What the car gave once and that was withdrawn, the last first."""
    gone: QuerySet[FilmBuild] = FilmBuild.objects.filter(car=car).exclude(withdrawn_at=None)
    return gone.select_related("withdrawn_by").order_by("-pk")
