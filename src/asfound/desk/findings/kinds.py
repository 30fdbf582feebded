"""The workshop's kinds of findings: what comes with the program, and its own words."""

from __future__ import annotations

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_http_methods, require_POST

from asfound.base import InputError
from asfound.craft.conditions import KINDS
from asfound.desk.access import open_car_to_write, show
from asfound.record.actions import add_finding_kind, withdraw_finding_kind
from asfound.record.models import FindingKind

_FREE = {"autocomplete": "off"}
GROUPS = tuple(dict.fromkeys(kind.group for kind in KINDS))
OWN_SHOWN = 300


class KindForm(forms.Form):
    """A word of the workshop's own."""

    word = forms.CharField(label="word", max_length=80, widget=forms.TextInput(attrs=_FREE))
    group = forms.CharField(
        label="met on",
        required=False,
        max_length=60,
        widget=forms.TextInput(attrs={**_FREE, "list": "groups"}),
    )
    says = forms.CharField(
        label="what you mean by it",
        required=False,
        max_length=300,
        widget=forms.TextInput(attrs=_FREE),
    )


@login_required
@require_http_methods(["GET", "POST"])
def kinds(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of all words, with a form for one more."""
    car = open_car_to_write(request, slug)
    form = KindForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            made = add_finding_kind(by=request.user, **form.cleaned_data)
        except InputError as error:
            form.add_error("word", str(error))
        else:
            messages.success(request, f"“{made.word}” is offered on every car from now on.")
            return redirect("finding-kinds", slug)
    return show(
        request,
        "findings/kinds.html",
        status=422 if form.errors else 200,
        car=car,
        room="findings",
        form=form,
        groups=GROUPS,
        own=FindingKind.objects.current().select_related("entered_by")[:OWN_SHOWN],
        gone=FindingKind.objects.exclude(withdrawn_at=None).select_related("withdrawn_by")[:30],
        ours=KINDS,
    )


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, pk: int) -> HttpResponse:
    """A word is offered no longer; findings that bear it keep it."""
    open_car_to_write(request, slug)
    kind = get_object_or_404(FindingKind, pk=pk)
    try:
        withdraw_finding_kind(kind=kind, reason=request.POST.get("reason", ""), by=request.user)
    except InputError as error:
        messages.warning(request, f"Nothing was changed. {error}")
    else:
        messages.success(request, f"“{kind.word}” is offered no longer; findings keep it.")
    return redirect("finding-kinds", slug)
