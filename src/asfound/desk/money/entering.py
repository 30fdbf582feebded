"""Entering a document of a supplier, and a payment of the owner."""

from __future__ import annotations

import uuid

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.http import require_http_methods

from asfound.base import InputError
from asfound.desk.access import show
from asfound.desk.errands.sending import paper_of
from asfound.desk.money.forms import DocumentForm, PaymentForm
from asfound.desk.money.opened import Opened, open_money
from asfound.desk.observed.answering import is_for_script, kept_answer, refused_answer
from asfound.desk.photos.subjects import subjects_offered
from asfound.exchange.papers import Paper
from asfound.record.actions.money import agree_rates, enter_document, enter_payment, kept_paper
from asfound.record.convert.stored import folder_of
from asfound.record.convert.trades import trades_of
from asfound.record.faults import Fault
from asfound.record.reads.errands import names_met
from asfound.record.reads.money import suppliers_met

_FROM_ADDRESS = ("kind", "supplier", "subject", "net", "follows", "trade", "what")


@login_required
@require_http_methods(["GET", "POST"])
def add_document(request: HttpRequest, slug: str) -> HttpResponse:
    """Form of a document; posted, it is kept with its paper."""
    here = open_money(request, slug, write=True)
    if agree_rates(car=here.car, by=request.user):
        here = open_money(request, slug, write=True)
    asked = {name: request.GET[name] for name in _FROM_ADDRESS if name in request.GET}
    form = DocumentForm(
        request.POST or None,
        request.FILES or None,
        here=here,
        changes=_changes(here),
        initial={**asked, "key": uuid.uuid4().hex},
    )
    if request.method == "POST" and form.is_valid() and _keep(request, here, form):
        return kept_answer(request, reverse("money", args=(slug,)))
    if is_for_script(request):
        return refused_answer(form)
    purchases = here.folder.sheet("purchases")
    open_numbers = {
        row.text("number"): f"{row.text('kind')}, {row.text('supplier')}"
        for row in purchases
        if row.text("kind") in ("quote", "order")
    }
    return show(
        request,
        "money/add.html",
        status=422 if form.errors else 200,
        car=here.car,
        room="money",
        form=form,
        currency=here.currency,
        suppliers=dict.fromkeys([*suppliers_met(request.user), *names_met(request.user, "to")]),
        pieces=_pieces(here),
        trades=trades_of(here.folder),
        orders=open_numbers.items(),
    )


def _pieces(here: Opened) -> dict[str, str]:
    decided = {row.text("subject"): "" for row in here.folder.sheet("subjects")}
    return {**dict(subjects_offered(here.car)), **decided}


def _changes(here: Opened) -> list[tuple[str, str]]:
    signed = here.car.proposals.signed().exclude(follows=None).order_by("-number")
    return [(str(one.number), f"{one.number}: {one.title}") for one in signed]


def _keep(request: HttpRequest, here: Opened, form: DocumentForm) -> bool:
    paper = paper_of(form, "paper")
    if isinstance(paper, Fault):
        form.add_error("paper", f"{paper.rule}. {paper.remedy} Nothing was written.")
        return False
    rows = form.cleaned_data["rows"]
    try:
        with transaction.atomic():
            if isinstance(paper, Paper):
                path = kept_paper(
                    car=here.car, sha256=paper.sha256, size=paper.size, suffix=paper.suffix
                )
                rows[0]["paper"] = path
            made = enter_document(
                car=here.car, lines=rows, by=request.user, key=form.cleaned_data["key"]
            )
    except InputError as error:
        field = error.field if error.field in form.fields else None
        form.add_error(field, f"{error.got}; must be {error.allowed}. {error.remedy}")
        return False
    told = f"{rows[0]['kind']} {rows[0]['number']} of {rows[0]['supplier']}"
    messages.success(request, f"Kept: {told}." if made else f"Kept already: {told}.")
    return True


@login_required
@require_http_methods(["GET", "POST"])
def add_payment(request: HttpRequest, slug: str) -> HttpResponse:
    """Form of a payment; posted, it is kept."""
    here = open_money(request, slug, write=True)
    agree_rates(car=here.car, by=request.user)
    form = PaymentForm(request.POST or None, folder=folder_of(here.car), fixed={})
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        made = enter_payment(car=here.car, cells=data["cells"], by=request.user, key=data["key"])
        told = "{kind} of {amount}".format_map(data["cells"])
        messages.success(request, f"Kept: {told}." if made else f"Kept already: {told}.")
        return kept_answer(request, reverse("money", args=(slug,)))
    if is_for_script(request):
        return refused_answer(form)
    return show(
        request,
        "money/payment.html",
        status=422 if form.errors else 200,
        car=here.car,
        room="money",
        form=form,
        currency=here.currency,
    )
