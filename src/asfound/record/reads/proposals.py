"""Proposals of many cars that can still be answered and signed."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet

from asfound.record.models import Car, Proposal


def open_proposals(cars: QuerySet[Car] | list[Car]) -> QuerySet[Proposal, Proposal]:
    """Proposals neither signed nor withdrawn, with what was said to them, the oldest first."""
    current: Any = Proposal.objects.current()
    found: QuerySet[Proposal, Proposal] = current.filter(car__in=cars, signature__isnull=True)
    return found.select_related("car").prefetch_related("answers").order_by("sent_at")
