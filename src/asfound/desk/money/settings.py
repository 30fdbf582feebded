"""How the workshop counts money: its currency, taxes, rates, and what its own hours cost."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods, require_POST

from asfound.base import InputError
from asfound.desk.access import show
from asfound.desk.money.opened import check_head, open_money
from asfound.desk.tables.checking import check_rows
from asfound.desk.tables.fault_words import fault_words
from asfound.plan.money import check_currency
from asfound.record.actions.money import agree_rates, set_money
from asfound.record.convert.trades import USUAL
from asfound.record.folder import CarFolder
from asfound.record.models import MoneySettings, Option
from asfound.record.reads.money import money_settings
from asfound.record.tables import TABLES

SPARE = 2
_FREE = {"autocomplete": "off"}
_NUMBER = {"autocomplete": "off", "inputmode": "decimal"}


class SettingsForm(forms.Form):
    """Everything but the rates, which are rows."""

    name = forms.CharField(
        label="name of the workshop",
        max_length=120,
        required=False,
        widget=forms.TextInput(attrs=_FREE),
    )
    address = forms.CharField(
        label="address, as it stands on a statement",
        max_length=600,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
    )
    currency = forms.CharField(
        label="currency",
        max_length=3,
        widget=forms.TextInput(attrs=_FREE),
        help_text="three letters, as ISO 4217 has them; a car may have another",
    )
    with_tax = forms.BooleanField(
        label="the statement asks for the sum with tax",
        required=False,
    )
    open_to_craft = forms.BooleanField(
        label="craftspeople may see what cars cost, and enter documents",
        required=False,
        help_text="what your hours cost and what is earned stays with the head",
    )
    markup_percent = forms.DecimalField(
        label="added to what suppliers ask, in per cent",
        min_value=Decimal(0),
        max_digits=6,
        decimal_places=2,
        widget=forms.TextInput(attrs=_NUMBER),
        help_text="on documents entered from now on; seen by the head alone",
    )

    def clean_currency(self) -> str:
        """Code of a currency that is in use."""
        code = str(self.cleaned_data["currency"]).strip().upper()
        try:
            check_currency(code)
        except InputError as error:
            raise forms.ValidationError(f"“{code}” must be {error.allowed}.") from None
        return code


@login_required
@require_http_methods(["GET", "POST"])
def settings(request: HttpRequest) -> HttpResponse:
    """Page of the workshop's rates, for its head alone."""
    check_head(request)
    now = money_settings()
    form = SettingsForm(request.POST or None, initial=_initial(now))
    rates, taxes = _typed_rates(request) or _rates(now), _typed_taxes(request) or now.tax_rates
    faults: list[str] = []
    if request.method == "POST":
        faults = _faults(rates, taxes)
        if form.is_valid() and not faults:
            set_money(
                by=request.user,
                **form.cleaned_data,
                tax_rates=taxes,
                charge_rates=[
                    {k: row[k] for k in ("trade", "rate", "from_on") if row.get(k)}
                    for row in rates
                    if row.get("rate")
                ],
                cost_rates={row["trade"]: row["cost"] for row in rates if row.get("cost")},
            )
            messages.success(request, "Kept. Cars that have rates of their own keep those.")
            return redirect("money-settings")
    return show(
        request,
        "money/settings.html",
        status=422 if form.errors or faults else 200,
        form=form,
        faults=faults,
        rates=[*rates, *({} for _ in range(SPARE))],
        taxes=[*taxes, *({} for _ in range(SPARE))],
    )


@login_required
@require_POST
def agree(request: HttpRequest, slug: str) -> HttpResponse:
    """Give the car the workshop's rates of today, whatever it had."""
    check_head(request)
    here = open_money(request, slug, write=True)
    if agree_rates(car=here.car, by=request.user, anew=True):
        messages.success(request, "The car has the workshop's rates of today.")
    else:
        messages.info(request, "The workshop has no rates yet.")
    return redirect("money", slug)


def _initial(now: MoneySettings) -> dict[str, Any]:
    return {name: getattr(now, name) for name in SettingsForm.base_fields}


def _rates(now: MoneySettings) -> list[dict[str, str]]:
    """Trades with what an hour is charged at and costs; those met on cars are offered."""
    told = [{**row, "cost": str(now.cost_rates.get(row["trade"], ""))} for row in now.charge_rates]
    known = {row["trade"] for row in told}
    more = [name for name in (*_trades(), *now.cost_rates) if name not in known]
    told += [
        {"trade": name, "cost": str(now.cost_rates.get(name, ""))} for name in dict.fromkeys(more)
    ]
    return told


def _trades() -> Sequence[str]:
    hours = Option.objects.values_list("hours", flat=True)[:50]
    return list(dict.fromkeys(trade for row in hours for trade in (row or {}))) or USUAL


def _typed_rates(request: HttpRequest) -> list[dict[str, str]]:
    return _typed(request, "rate", ("trade", "rate", "cost", "from_on"))


def _typed_taxes(request: HttpRequest) -> list[dict[str, str]]:
    return _typed(request, "tax", ("name", "percent", "from_on", "until_on", "charged"))


def _typed(request: HttpRequest, prefix: str, names: Sequence[str]) -> list[dict[str, str]]:
    """Rows as they were typed; a row with nothing but its name is none."""
    columns = [request.POST.getlist(f"{prefix}_{name}") for name in names]
    rows = [
        {name: cell.strip() for name, cell in zip(names, cells, strict=True) if cell.strip()}
        for cells in zip(*columns, strict=False)
    ]
    return [row for row in rows if len(row) > 1 or "rate" in row]


def _faults(rates: list[dict[str, str]], taxes: list[dict[str, str]]) -> list[str]:
    """What is wrong with the rows, in words; decimal commas become points on the way."""
    faults = []
    for table, rows in (("charge_rates", rates), ("tax_rates", taxes)):
        columns = TABLES[table].columns
        told = [{c.name: row.get(c.name, "") for c in columns} for row in rows]
        told = [row if row.get("rate", "0") else {**row, "rate": "0"} for row in told]
        checked = check_rows(told, columns, table=table, folder=CarFolder())
        faults += [f"Row {f.row}: {fault_words(f, table=table)}" for f in checked.faults]
        for row, kept in zip(rows, checked.rows, strict=False):
            row |= {name: cell for name, cell in kept.items() if name in row}
    for number, row in enumerate(rates, start=1):
        cost = row.get("cost", "0").replace(",", ".")
        if not cost.replace(".", "", 1).isdecimal():
            faults.append(f"Row {number}: what an hour costs is “{cost}”; it must be 0 or more.")
        elif "cost" in row:
            row["cost"] = cost
    return faults
