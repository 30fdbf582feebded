"""How the workshop counts money, and who may see that of a car."""

from __future__ import annotations

from typing import Any

from django.core.exceptions import PermissionDenied
from django.db.models import QuerySet
from django.db.models.fields.json import KT

from asfound.record.models import Car, Entry, MoneySettings, Observation
from asfound.record.models.release import OwnersRoom
from asfound.record.reads.cars import cars_for

_LOGGED = (
    *("purchase", "payment", "charge_rates", "tax_rates", "material_prices", "set money"),
    *("keep statement",),
)
"""Ends of the actions whose lines in the log only those see who may see the money of the car."""


_MET = 500


def money_settings() -> MoneySettings:
    """Settings that count; those that come with the program where nobody set any."""
    return MoneySettings.objects.last() or MoneySettings()


def may_see_money(by: Any, car: Car, *, check: bool = False) -> bool:
    """Whether a person may see what the car costs: the head, those it opens it to, its owner.

    Raises
    ------
    PermissionDenied
        With ``check``, instead of answering no.
    """
    allowed = by is None or _may(by, car)
    if check and not allowed:
        raise PermissionDenied("The head of the workshop opens what a car costs to others.")
    return allowed


def lines_for(by: Any, car: Car) -> QuerySet[Entry]:
    """Lines of the car's log that the person may read."""
    lines: QuerySet[Entry] = car.entries.all()
    if may_see_money(by, car):
        return lines
    for word in _LOGGED:
        lines = lines.exclude(action__contains=word)
    return lines


def _may(by: Any, car: Car) -> bool:
    person = getattr(by, "person", None)
    if person is None or not by.is_active:
        return False
    if person.is_owner:
        released = car.releases.current().filter(room=OwnersRoom.MONEY).exists()
        return bool(released) and car.owners.filter(pk=person.pk).exists()
    return person.is_head or money_settings().open_to_craft


def suppliers_met(user: Any) -> list[str]:
    """Suppliers of the cars that the person sees, the latest first."""
    rows = Observation.objects.current().filter(car__in=cars_for(user), table="purchases")
    names = rows.order_by("-pk").values_list(KT("cells__supplier"), flat=True)[:_MET]
    return list(dict.fromkeys(name for name in names if name))
