"""The account to keep: lines as CSV and XLSX, sums as JSON, the owner's statement as PDF."""

from __future__ import annotations

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.http import require_GET

from asfound.desk.money.lines import change_lines
from asfound.desk.money.opened import open_money
from asfound.desk.observed.files import XLSX, as_file
from asfound.dossier.statement import StatementHead, make_statement
from asfound.exchange import csv_bytes, json_bytes
from asfound.exchange.spreadsheet_out import workbook_bytes
from asfound.record.results.money import lines_sheet, money_json, owner_lines


@login_required
@require_GET
def csv(request: HttpRequest, slug: str) -> HttpResponse:
    """Lines of the account; an owner's tell no supplier."""
    here = open_money(request, slug)
    sheet = (owner_lines if here.is_owner else lines_sheet)(here.account())
    return as_file(csv_bytes(sheet), "text/csv; charset=utf-8", f"{slug}-account.csv")


@login_required
@require_GET
def xlsx(request: HttpRequest, slug: str) -> HttpResponse:
    """The same lines as a spreadsheet, for the workshop with its documents and payments."""
    here = open_money(request, slug)
    account = here.account()
    sheets = {"account": owner_lines(account) if here.is_owner else lines_sheet(account)}
    for name in ("payments",) if here.is_owner else ("purchases", "payments"):
        if len(here.folder.sheet(name)):
            sheets[name] = here.folder.sheet(name)
    return as_file(workbook_bytes(sheets), XLSX, f"{slug}-account.xlsx")


@login_required
@require_GET
def json(request: HttpRequest, slug: str) -> HttpResponse:
    """Sums as the command line gives them, for the workshop."""
    here = open_money(request, slug, write=True)
    return as_file(json_bytes(money_json(here.account())), "application/json", f"{slug}-money.json")


@login_required
@require_GET
def statement(request: HttpRequest, slug: str) -> HttpResponse:
    """The owner's statement, made of the account as it stands now; it tells no cost and margin."""
    here = open_money(request, slug)
    account = here.account()
    today = timezone.localdate()
    pdf = make_statement(
        account,
        head=StatementHead(
            car=here.folder.name,
            invented=here.car.is_invented,
            made_on=today,
            name=here.settings.name,
            address=here.settings.address,
            with_tax=here.settings.with_tax,
        ),
        payments=here.folder.sheet("payments"),
        changes=[
            (f"{one.number}", one.title, f"{one.signed_on:%Y-%m-%d}", one.hours, one.amount)
            for one in change_lines(here.car, here.folder, account.digits)
        ],
    )
    return as_file(pdf, "application/pdf", f"{slug}-statement-{today}.pdf")
