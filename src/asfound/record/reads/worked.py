"""What goes on at this moment, and what was written on a card."""

from __future__ import annotations

from django.db.models import Q, QuerySet

from asfound.record.models import Car, Observation

_OPEN = Q(cells__to_at__isnull=True) | Q(cells__to_at="")


def open_stretches(
    *, car: Car | None = None, task: str = "", person: str = ""
) -> list[Observation]:
    """Stretches of work that go on, of a car, a task, a person, or all of these together."""
    found = Observation.objects.current().filter(_OPEN, table="worked")
    if car is not None:
        found = found.filter(car=car)
    if task:
        found = found.filter(cells__task=task)
    if person:
        found = found.filter(cells__person=person)
    return list(found.select_related("car"))


def is_done(car: Car, task: str) -> bool:
    """Whether a stretch that counts says that the task is done."""
    found = Observation.objects.current().filter(car=car, table="worked")
    return bool(found.filter(cells__task=task, cells__done="yes").exists())


def on_card(car: Car, table: str, task: str) -> QuerySet[Observation]:
    """Rows of a table that name a task, with those corrected or withdrawn, the newest first."""
    found: QuerySet[Observation] = Observation.objects.filter(car=car, table=table)
    return (
        found.filter(cells__task=task)
        .select_related("superseded_by", "car")
        .order_by("-position", "-pk")
    )
