"""Money: the workshop's settings, rates agreed for a car, documents with their papers, payments."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from django.db import transaction

from asfound.base import InputError
from asfound.plan.money import check_currency
from asfound.record.actions.observation import add_observations, withdraw_observation
from asfound.record.actions.small_sheet import check_unchanged, filled, set_sheet, sheet_rows
from asfound.record.actions.turn import take_turn
from asfound.record.actions.who import check_is_head, check_may_write
from asfound.record.convert.money_documents import name_of
from asfound.record.folder import PAPER_FOLDER, Row
from asfound.record.log import write_entry
from asfound.record.models import Car, KeptFile, MoneySettings, Observation
from asfound.record.reads.money import may_see_money, money_settings

MONEY = PURCHASES, PAYMENTS = "purchases", "payments"
_WHY = "The head of the workshop keeps its rates and what it earns."
_OPEN = ("currency", "with_tax", "name", "address", "open_to_craft", "tax_rates", "charge_rates")
_OWN = ("cost_rates", "markup_percent")
_TREATMENTS = "treatment_rates"


@transaction.atomic
def set_money(*, by: Any, **told: Any) -> MoneySettings:
    """Settings that count from now on; those before are kept.

    Parameters
    ----------
    by : user or None
    **told
        Fields of :class:`MoneySettings`; what is not told stays.

    Raises
    ------
    PermissionDenied
        If the person is not the head.
    InputError
        If the currency is not known, or a field is not one of the settings.
    """
    check_is_head(by, _WHY)
    before = money_settings()
    for name, value in told.items():
        if name not in (*_OPEN, *_OWN):
            raise InputError(field=name, got=value, allowed=", ".join((*_OPEN, *_OWN)))
    check_currency(told.get("currency", before.currency))
    made = _settle(before, by=by, **told)
    write_entry(
        action="set money",
        by=by,
        before={name: getattr(before, name) for name in _OPEN},
        # What an hour costs stands in the row alone: the log is read by more than the head.
        after={name: getattr(made, name) for name in _OPEN},
    )
    return made


@transaction.atomic
def set_treatments(*, rows: Sequence[Mapping[str, str]], seen: Sequence[Any], by: Any) -> None:
    """Write the whole of the workshop's table of treatments; the log keeps what it was.

    Parameters
    ----------
    rows : sequence of mapping
        Cells by column, checked by the exchange against ``treatment_rates``.
    seen : sequence of mapping
        Rows that the person had before them.
    by : user or None

    Raises
    ------
    PermissionDenied
        If the person is not the head.
    InputError
        If the table changed meanwhile.
    """
    check_is_head(by, _WHY)
    now = money_settings()
    before = now.treatment_rates
    check_unchanged(_TREATMENTS, seen=seen, now=before)
    after = filled(rows)
    _settle(now, by=by, treatment_rates=after)
    write_entry(action="set the workshop's treatments", by=by, before=before, after=after)


def _settle(before: MoneySettings, *, by: Any, **told: Any) -> MoneySettings:
    """Row that counts from now on: what is told, and all else as it was."""
    names = (*_OPEN, *_OWN, _TREATMENTS)
    fields = {name: getattr(before, name) for name in names} | told
    made: MoneySettings = MoneySettings.objects.create(**fields, by=by)
    return made


@transaction.atomic
def agree_rates(*, car: Car, by: Any, anew: bool = False) -> bool:
    """Give a car the workshop's currency and rates where it has none of its own; whether it did.

    With ``anew`` the rates of hours are those of the workshop today, whatever the car had.

    Raises
    ------
    PermissionDenied
        If the person may only read.
    """
    check_may_write(by)
    take_turn(car)
    settings, changed = money_settings(), False
    if not car.currency:
        car.currency = settings.currency
        head = car.heads.get("car", [])
        car.heads = {**car.heads, "car": [*head, *(["currency"] * ("currency" not in head))]}
        car.save(update_fields=["currency", "heads"])
        write_entry(action="set currency", by=by, car=car, after={"currency": car.currency})
        changed = True
    for table in ("tax_rates", "charge_rates"):
        rows = getattr(settings, table)
        if rows and (anew or not sheet_rows(car, table)):
            set_sheet(car=car, table=table, rows=rows, by=by)
            changed = True
    return changed


@transaction.atomic
def enter_document(
    *, car: Car, lines: Sequence[Mapping[str, str]], by: Any, key: str = ""
) -> tuple[Observation, ...]:
    """Quote, order, invoice or credit note of a supplier, line by line, all or none.

    Parameters
    ----------
    car : Car
    lines : sequence of mapping
        Cells of ``purchases.csv``, checked by the exchange.
    by : user or None
    key : str
        Made by the sender; what comes again under one key is not written again, and gives ().

    Raises
    ------
    PermissionDenied
        If the person may not see the car's money.
    InputError
        If there is no line, or the document is there already.
    """
    check_may_write(by)
    may_see_money(by, car, check=True)
    take_turn(car)
    if not lines:
        raise InputError(field="lines", got=0, allowed="one or more")
    name = name_of(Row(lines[0], 1))
    there = car.observations.current().filter(table=PURCHASES)
    known_key = key and car.arrivals.filter(key=key).exists()
    if not known_key and any(name_of(Row(one.cells, 1)) == name for one in there):
        raise InputError(
            field="number",
            got=f"{lines[0]['kind']} {lines[0]['number']} of {lines[0]['supplier']}",
            allowed="one that is not entered yet",
            remedy="Correct the one that is there, or check the number.",
        )
    who = "" if by is None else by.get_username()
    rows = [{name: cell for name, cell in {**line, "by": who}.items() if cell} for line in lines]
    return add_observations(car=car, table=PURCHASES, rows=rows, by=by, key=key)


@transaction.atomic
def enter_payment(
    *, car: Car, cells: Mapping[str, str], by: Any, key: str = ""
) -> tuple[Observation, ...]:
    """What the owner paid, or got back.

    Raises
    ------
    PermissionDenied
        If the person may not see the car's money.
    """
    check_may_write(by)
    may_see_money(by, car, check=True)
    who = "" if by is None else by.get_username()
    row = {name: cell for name, cell in {**cells, "by": who}.items() if cell}
    return add_observations(car=car, table=PAYMENTS, rows=[row], by=by, key=key)


def kept_paper(*, car: Car, sha256: str, size: int, suffix: str) -> str:
    """Path of a paper in the car's folder; its bytes are on the shelf."""
    path = f"{PAPER_FOLDER}/{sha256}{suffix}"
    KeptFile.objects.get_or_create(car=car, path=path, defaults={"sha256": sha256, "size": size})
    return path


@transaction.atomic
def withdraw_document(*, lines: Sequence[Observation], reason: str, by: Any) -> None:
    """Let every line of a document count no longer; all are kept with the reason.

    Raises
    ------
    InputError
        If one counts no longer already, or the reason is empty.
    """
    for line in lines:
        may_see_money(by, line.car, check=True)
        withdraw_observation(observation=line, reason=reason, by=by)


def check_can_restore_money(observation: Observation, by: Any) -> None:
    """Raise the reason why a withdrawn line or payment may not count again.

    Raises
    ------
    PermissionDenied
        If the car's money is closed to the person.
    InputError
        If the same was entered again since: it would count twice.
    """
    car: Car = observation.car
    may_see_money(by, car, check=True)
    there = car.observations.current().filter(table=observation.table)
    if any(_told(one) == _told(observation) for one in there):
        raise InputError(
            field="line",
            got=str(observation),
            allowed="one that was not entered again since",
            remedy="Withdraw the other first.",
        )


def _told(observation: Observation) -> dict[str, str]:
    """Cells that tell two lines apart, whoever entered them."""
    left_out = ("by", "paper", "note", "charged_net")
    return {k: v for k, v in observation.cells.items() if v and k not in left_out}
