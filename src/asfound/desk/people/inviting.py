"""Links that invite people."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_http_methods, require_POST

from asfound.desk.access import show
from asfound.desk.people.door import refuse_all_but_head
from asfound.desk.people.forms import InviteForm
from asfound.record.actions import invite, withdraw_invitation
from asfound.record.invitation_link import token_of
from asfound.record.models import Car, Invitation
from asfound.record.models.person import Role
from asfound.record.reads.people import open_invitations

LINES_SHOWN = 100


@login_required
@require_http_methods(["GET", "POST"])
def invitations(request: HttpRequest) -> HttpResponse:
    """Open links, and a form for a new one."""
    refuse_all_but_head(request)
    form = InviteForm(request.POST or None, initial=_initial(request))
    if form.is_valid():
        asked = {name: form.cleaned_data[name] for name in ("whom", "role", "cars")}
        made = invite(by=request.user, **asked)
        messages.success(request, f"The link for {made.whom} stands below; send it to them alone.")
        return redirect("invitations")
    lines = [(made, _link(request, made)) for made in open_invitations()[:LINES_SHOWN]]
    return show(
        request,
        "people/invitations.html",
        status=422 if form.errors else 200,
        form=form,
        lines=lines,
        cars_known=Car.objects.order_by("slug")[:LINES_SHOWN],
    )


@login_required
@require_POST
def withdraw(request: HttpRequest, pk: int) -> HttpResponse:
    """Make a link good no longer."""
    refuse_all_but_head(request)
    found = get_object_or_404(Invitation, pk=pk)
    reason = request.POST.get("reason", "")
    withdraw_invitation(invitation=found, reason=reason, by=request.user)
    messages.success(request, f"The link for {found.whom} opens nothing any more.")
    return redirect("invitations")


def _initial(request: HttpRequest) -> dict[str, Any]:
    slug = request.GET.get("car", "")
    return {"car": slug, "role": Role.OWNER} if slug else {}


def _link(request: HttpRequest, made: Invitation) -> str:
    return request.build_absolute_uri(reverse("accept-invitation", args=(token_of(made),)))
