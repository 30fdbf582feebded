"""What is out of the workshop: by part, by car, and over all cars a person may see."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from django.db.models import F, Q, QuerySet, TextField, Value
from django.db.models.fields.json import KT
from django.db.models.functions import NullIf

from asfound.record.convert.errands import Errand, errand_of
from asfound.record.models import Car, Observation, Part
from asfound.record.reads.cars import cars_for

_OUT = Q(cells__back_on__isnull=True) | Q(cells__back_on="")
OFFERED = 60


def errands_of(*, cars: Iterable[Car] | QuerySet[Car], out: bool) -> QuerySet[Observation]:
    """Errands of cars: those out, the longest overdue first; or those back, the latest first.

    An errand without a due day comes last among those out.
    """
    counting: QuerySet[Observation] = Observation.objects.current()
    found = counting.filter(car__in=cars, table="errands").select_related("car")
    if out:
        due = NullIf(KT("cells__due_on"), Value("", output_field=TextField()))
        ordered = found.filter(_OUT).annotate(due=due)
        return ordered.order_by(F("due").asc(nulls_last=True), "cells__sent_on", "pk")
    return found.exclude(_OUT).order_by("-cells__back_on", "-pk")


def overdue_errands(
    *, cars: Iterable[Car] | QuerySet[Car], today: date
) -> list[tuple[Observation, Errand]]:
    """Errands out past the last day of their due date, the longest overdue first."""
    out = ((row, errand_of(row.cells, today=today)) for row in errands_of(cars=cars, out=True))
    return [(row, errand) for row, errand in out if errand.is_overdue]


def open_errands(parts: Iterable[Part]) -> dict[int, Observation]:
    """Errand that each of the parts is out on, by the part's key; parts at home are not in it."""
    wanted = {(part.car_id, part.part): part.pk for part in parts}
    if not wanted:
        return {}
    found = Observation.objects.current().filter(
        _OUT,
        car__in={car for car, _ in wanted},
        table="errands",
        subject__in={part for _, part in wanted},
    )
    return {
        wanted[one.car_id, one.subject]: one
        for one in found.order_by("position", "pk")
        if (one.car_id, one.subject) in wanted
    }


def latest_of(errand: Observation) -> Observation:
    """The errand as it stands after its corrections."""
    now: Any = errand
    while now.superseded_by is not None:
        now = now.superseded_by
    latest: Observation = now
    return latest


def names_met(user: Any, column: str) -> list[str]:
    """What was written in a column of errands before, the most used first."""
    rows = Observation.objects.current().filter(car__in=cars_for(user), table="errands")
    met: dict[str, int] = {}
    for name in rows.order_by("-pk").values_list(KT(f"cells__{column}"), flat=True)[:500]:
        if name:
            met[name] = met.get(name, 0) + 1
    return sorted(met, key=lambda name: (-met[name], name))[:OFFERED]
