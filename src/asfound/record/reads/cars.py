"""Which cars a person may see, with what the list of cars shows of each."""

from __future__ import annotations

from typing import Any

from django.db.models import Count, IntegerField, OuterRef, QuerySet, Subquery
from django.db.models.functions import Coalesce

from asfound.record.models import Car, Decision, FilmReading, Option, Panel


def cars_for(user: Any) -> QuerySet[Car]:
    """Cars the user may see, each with ``panels_n``, ``readings_n``, ``subjects_n``, ``locks_n``.

    The workshop sees every car, an owner their own, an account without a role none.
    """
    return _visible(user).annotate(
        panels_n=_count(Panel.objects.all()),
        readings_n=_count(FilmReading.objects.current()),
        subjects_n=_count(Option.objects.all(), "subject"),
        locks_n=_count(Decision.objects.current()),
    )


def car_for(user: Any, slug: str) -> Car:
    """Car of that slug.

    Raises
    ------
    Car.DoesNotExist
        If there is none, or it is not theirs to see.
    """
    return _visible(user).get(slug=slug)


def _visible(user: Any) -> QuerySet[Car]:
    person = getattr(user, "person", None)
    if person is None or not user.is_active:
        return Car.objects.none()
    return Car.objects.filter(owners=person) if person.is_owner else Car.objects.all()


def _count(rows: QuerySet[Any, Any], field: str = "pk") -> Coalesce:
    """Count of a car's rows, or of the different values of a field, without a query a car."""
    counted = (
        rows.order_by()
        .filter(car=OuterRef("pk"))
        .values("car")
        .annotate(n=Count(field, distinct=True))
        .values("n")
    )
    return Coalesce(Subquery(counted, output_field=IntegerField()), 0)
