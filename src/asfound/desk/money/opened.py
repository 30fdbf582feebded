"""The money of a car, opened by whoever may see it."""

from __future__ import annotations

from dataclasses import dataclass

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest
from django.utils import timezone

from asfound.desk.access import open_car, open_car_to_write, person_of
from asfound.record.convert.money import CarAccount, account_of
from asfound.record.folder import CarFolder
from asfound.record.models import Car, MoneySettings
from asfound.record.reads.money import may_see_money, money_settings
from asfound.record.reads.workshop import planning_folder


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened:
    """A car with its account; what hours cost is known to the head alone."""

    car: Car
    folder: CarFolder
    settings: MoneySettings
    is_head: bool
    is_owner: bool

    def account(self) -> CarAccount:
        """Account of the car as it stands now; one without a currency is in the workshop's.

        Raises
        ------
        InputError
            If the currency is not known.
        """
        costs = self.settings.costs if self.is_head else {}
        return account_of(
            self.folder, now=timezone.localtime(), costs=costs, currency=self.currency
        )

    @property
    def currency(self) -> str:
        """The car's currency, else the workshop's."""
        return self.car.currency or self.settings.currency


def open_money(request: HttpRequest, slug: str, *, write: bool = False) -> Opened:
    """Money of the car in the address.

    Raises
    ------
    PermissionDenied
        If the person may not see it, or an owner is to write.
    """
    car = open_car_to_write(request, slug) if write else open_car(request, slug)
    may_see_money(request.user, car, check=True)
    person = person_of(request)
    assert person is not None, "nobody without a role may see a car"
    return Opened(
        car=car,
        folder=planning_folder(car),
        settings=money_settings(),
        is_head=person.is_head,
        is_owner=person.is_owner,
    )


def check_head(request: HttpRequest) -> None:
    """Refusal for everybody but the head."""
    person = person_of(request)
    if person is None or not person.is_head:
        raise PermissionDenied("The head of the workshop keeps its rates and what it earns.")
