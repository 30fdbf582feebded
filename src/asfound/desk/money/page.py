"""The room of a car's money: what it comes to, in figures and bars, and what it is made of."""

from __future__ import annotations

from decimal import Decimal
from typing import Any, cast

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import InputError
from asfound.desk.access import show
from asfound.desk.money.lines import change_lines, document_lines, sum_rows
from asfound.desk.money.opened import Opened, open_money
from asfound.dossier.figures.money_bars import MOST_BARS, money_svg
from asfound.plan.money import BY, By
from asfound.record.convert.money import CarAccount, margin_of, paid_by
from asfound.record.models import Car


@login_required
@require_GET
def money(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the money of a car."""
    here = open_money(request, slug)
    try:
        account = here.account()
    except InputError as error:
        return show(
            request, "money/unread.html", status=422, car=here.car, room="money", fault=str(error)
        )
    by = cast(By, request.GET.get("by") if request.GET.get("by") in _shown(here) else "piece")
    rows = sum_rows(account, by)
    return show(
        request,
        "money/page.html",
        car=here.car,
        room="money",
        here=here,
        account=account,
        total=account.statement.total,
        digits=account.digits,
        by=by,
        ways=_shown(here),
        rows=rows,
        figure=money_svg(rows, digits=account.digits, currency=account.currency, by=by),
        bars_n=min(len(rows), MOST_BARS),
        changes=change_lines(here.car, here.folder, account.digits),
        payments=_payments(here.car),
        **({} if here.is_owner else _of_workshop(here, account)),
    )


def _shown(here: Opened) -> tuple[By, ...]:
    """An owner is not told which supplier asked what."""
    return tuple(by for by in BY if by != "supplier" or not here.is_owner)


def _of_workshop(here: Opened, account: CarAccount) -> dict[str, Any]:
    told: dict[str, Any] = {
        "documents": document_lines(here.car, account),
        "not_valued": account.not_valued,
    }
    if here.is_head:
        margin, unknown = margin_of(account)
        told |= {"margin": margin, "margin_unknown": unknown}
    return told


def _payments(car: Car) -> list[tuple[int, dict[str, str], Decimal]]:
    """What was paid, with what it takes off the sum, the first first."""
    rows = car.observations.current().filter(table="payments")
    told = ((row.pk, row.cells, -paid_by(row.cells)) for row in rows)
    return sorted(told, key=lambda one: (one[1].get("paid_on", ""), one[0]))
