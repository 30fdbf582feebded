"""One document: its lines, its papers, correcting a line, withdrawing it whole."""

from __future__ import annotations

from collections.abc import Mapping
from decimal import Decimal
from functools import partial

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_GET, require_http_methods, require_POST

from asfound.base import InputError
from asfound.desk.access import show
from asfound.desk.money.forms import CorrectPaymentForm, PurchaseForm
from asfound.desk.money.lines import document_lines, papers_in
from asfound.desk.money.opened import Opened, open_money
from asfound.desk.observed.correcting import correct_row
from asfound.desk.observed.lines import observed_line
from asfound.desk.survey.forms import WithdrawalForm
from asfound.plan.money import TaxedAmount, Totals, tax_totals
from asfound.record.actions import open_kept_file
from asfound.record.actions.money import withdraw_document
from asfound.record.convert.money_documents import name_of
from asfound.record.folder import PAPER_FOLDER, Row
from asfound.record.models import Observation

_TYPES = {"pdf": "application/pdf", "jpg": "image/jpeg", "png": "image/png"}


@login_required
@require_GET
def document(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page of a document; an address from before a correction leads to what counts now."""
    here = open_workshops(request, slug)
    rows = _rows(here, pk)
    line = next(
        (one for one in document_lines(here.car, here.account()) if one.pk == rows[0].pk), None
    )
    if line is None:
        raise Http404(pk)
    return show(
        request,
        "money/document.html",
        car=here.car,
        room="money",
        here=here,
        line=line,
        rows=rows,
        head=rows[0].cells,
        papers=[path.partition("/")[2] for path in papers_in(rows)],
        digits=here.account().digits,
        totals=_totals(rows, digits=here.account().digits),
        withdraw=WithdrawalForm(auto_id="withdraw_%s"),
        history=_before(here, rows),
    )


def _totals(rows: list[Observation], *, digits: int) -> Totals:
    """What the document comes to, with its tax by rate."""
    amounts = (
        TaxedAmount(net=Decimal(row.cells["net"]), percent=Decimal(row.cells["tax_percent"]))
        for row in rows
    )
    return tax_totals(amounts, digits=digits)


def open_workshops(request: HttpRequest, slug: str) -> Opened:
    """Money of the car for the workshop: what suppliers ask is not told to an owner."""
    return open_money(request, slug, write=True)


def _rows(here: Opened, pk: int) -> list[Observation]:
    """Lines of the document that a line belongs to."""
    purchases = here.car.observations.filter(table="purchases")
    one = purchases.filter(pk=pk).first()
    while one is not None and one.superseded_by_id:
        one = purchases.get(pk=one.superseded_by_id)
    if one is None or not one.counts:
        raise Http404(pk)
    name = name_of(Row(one.cells, 0))
    return [row for row in purchases.current() if name_of(Row(row.cells, 0)) == name]


def _before(here: Opened, rows: list[Observation]) -> list[tuple[str, str]]:
    """What lines said before they were corrected, and why that changed."""
    places = [row.position for row in rows]
    old = here.car.observations.filter(table="purchases", position__in=places)
    return [(told_purchase(row.cells), row.reason) for row in old if not row.counts]


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """All lines of the document count no longer; they are kept with the reason."""
    here = open_workshops(request, slug)
    rows = _rows(here, pk)
    try:
        withdraw_document(lines=rows, reason=request.POST.get("reason", ""), by=request.user)
    except InputError as error:
        messages.warning(request, f"{error} Nothing was changed.")
        return redirect("money-document", slug, pk)
    messages.success(request, "The document is withdrawn; it is kept with the reason.")
    return redirect("money", slug)


@login_required
@require_http_methods(["GET", "POST"])
def correct(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """Page that corrects or withdraws one line."""
    here = open_workshops(request, slug)
    is_payment = here.car.observations.filter(pk=pk, table="payments").exists()
    return correct_row(
        request,
        slug,
        pk,
        form_of=CorrectPaymentForm if is_payment else PurchaseForm,
        line_of=partial(observed_line, told=told_payment if is_payment else told_purchase),
        page="money-of",
        for_example="it was entered on the wrong car.",
        room="money",
        thing="payment" if is_payment else "line",
    )


@login_required
@require_GET
def back_to(request: HttpRequest, slug: str, subject: str = "") -> HttpResponse:
    """Lead back to the account from a corrected line of any piece."""
    return redirect("money", slug)


def told_purchase(cells: Mapping[str, str]) -> str:
    """Line of a document in a few words."""
    what = f", {cells['what']}" if cells.get("what") else ""
    return (
        f"{cells.get('kind')} {cells.get('number')} of {cells.get('supplier')}: "
        f"{cells.get('net')} without tax for {cells.get('subject')}{what}"
    )


def told_payment(cells: Mapping[str, str]) -> str:
    """Payment in a few words."""
    return f"{cells.get('kind')} of {cells.get('amount')} on {cells.get('paid_on')}"


@login_required
@require_GET
def paper(request: HttpRequest, slug: str, pk: int, name: str) -> FileResponse:
    """A paper of a document as it came; for those alone who may see the money."""
    here = open_workshops(request, slug)
    path = f"{PAPER_FOLDER}/{name}"
    kept = here.car.kept_files.filter(path=path).first()
    if kept is None or path not in papers_in(_rows(here, pk)):
        raise Http404(name)
    try:
        stream = open_kept_file(kept)
    except (OSError, ValueError):
        raise Http404(name) from None
    kind = _TYPES.get(name.rpartition(".")[2], "application/octet-stream")
    answer = FileResponse(stream, as_attachment=True, filename=name, content_type=kind)
    answer["Cache-Control"] = "private, no-store"
    return answer
