"""Tablets that people share: adding the one in hand, and withdrawing one."""

from __future__ import annotations

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.contrib.sessions.models import Session
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from asfound.desk.access import show
from asfound.desk.people.door import BY_PIN, TABLET_COOKIE, refuse_all_but_head, tablet_here
from asfound.desk.people.forms import TabletForm
from asfound.record.actions import add_tablet, withdraw_tablet
from asfound.record.models import Tablet

_KEPT_S = 400 * 24 * 3600
"""As long as browsers keep a cookie."""
TABLETS_SHOWN = 100


@login_required
@require_http_methods(["GET", "POST"])
def tablets(request: HttpRequest) -> HttpResponse:
    """Tablets of the workshop; a POST makes the device in hand one of them."""
    refuse_all_but_head(request)
    form = TabletForm(request.POST or None)
    if form.is_valid():
        tablet, key = add_tablet(name=form.cleaned_data["name"], by=request.user)
        messages.success(request, f"This device is now the tablet “{tablet.name}”.")
        answer = redirect("tablets")
        answer.set_cookie(
            TABLET_COOKIE,
            key,
            max_age=_KEPT_S,
            httponly=True,
            secure=settings.USE_HTTPS,
            samesite="Lax",
        )
        return answer
    return show(
        request,
        "people/tablets.html",
        status=422 if form.errors else 200,
        form=form,
        here=tablet_here(request),
        lines=Tablet.objects.current().select_related("added_by")[:TABLETS_SHOWN],
    )


@login_required
@require_POST
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Let no PIN be enough at that tablet any more."""
    refuse_all_but_head(request)
    found = get_object_or_404(Tablet, pk=pk)
    reason = request.POST.get("reason", "")
    withdraw_tablet(tablet=found, reason=reason, by=request.user)
    _end_sessions_at(found)
    messages.success(request, f"“{found.name}” is no longer a tablet of the workshop.")
    return redirect("tablets")


def _end_sessions_at(tablet: Tablet) -> None:
    """Sign everybody out who entered there with a PIN: it may be in a stranger's hands."""
    for session in Session.objects.filter(expire_date__gt=timezone.now()).iterator():
        if session.get_decoded().get(BY_PIN) == tablet.pk:
            session.delete()
