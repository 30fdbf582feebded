"""Pieces of another workshop's table, or of one's own list, taken in whole or not at all."""

from __future__ import annotations

from django import forms
from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from asfound.desk.access import refuse_readers, show
from asfound.exchange.stock import load_stock
from asfound.record.faults import Fault, InputFaultsError

FAULTS_SHOWN = 200


class LoadForm(forms.Form):
    """A table of pieces, or the stock as one file."""

    file = forms.FileField(
        label="salvage.csv, or salvage.zip",
        help_text="a spreadsheet (.xlsx) will do for the table; kind and name are enough",
        widget=forms.FileInput(attrs={"accept": ".csv,.xlsx,.zip,.txt,text/csv,application/zip"}),
    )


@login_required
@require_http_methods(["GET", "POST"])
def load(request: HttpRequest) -> HttpResponse:
    """Form that takes pieces in, or tells every fault."""
    refuse_readers(request)
    form = LoadForm(request.POST or None, request.FILES or None)
    faults: tuple[Fault, ...] = ()
    if request.method == "POST" and form.is_valid():
        upload = form.cleaned_data["file"]
        try:
            if (upload.size or 0) > settings.MAX_CAR_UPLOAD_BYTES:
                raise InputFaultsError((_too_large(upload.name),))
            taken = load_stock(upload.file, file=upload.name, by=request.user)
        except InputFaultsError as error:
            faults = error.faults
        else:
            messages.success(request, f"{taken} piece{'' if taken == 1 else 's'} entered.")
            return redirect("salvage")
    return show(
        request,
        "salvage/load.html",
        status=422 if faults or form.errors else 200,
        form=form,
        faults=faults[:FAULTS_SHOWN],
        faults_n=len(faults),
    )


def _too_large(name: str) -> Fault:
    most = settings.MAX_CAR_UPLOAD_BYTES / 1e6
    return Fault(file=name, rule=f"it is larger than {most:.0f} MB", remedy="Send it in parts.")
