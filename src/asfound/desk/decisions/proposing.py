"""Making a proposal: what would be sent, what stands in its way, and sending it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import AsfoundError, InputError
from asfound.choose import Problem
from asfound.desk.access import open_car, open_car_to_write, person_of, show
from asfound.desk.decisions.instead import (
    Instead,
    asked_instead,
    changed_by,
    chosen_instead,
    open_order,
    put_otherwise,
    put_to_owner,
    taken_up,
)
from asfound.dossier.proposal import Head, make_proposal
from asfound.exchange.photographs import picture_on_shelf
from asfound.record.actions import last_signed, next_number, send_proposal
from asfound.record.actions.keeps_begun import check_keeps_begun
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.holds import open_holds
from asfound.record.convert.proposal import proposal_content
from asfound.record.convert.safety import UntestedPiece, untested_pieces
from asfound.record.derived import choice_result, plan_at_hand
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Proposal
from asfound.record.models.release import OwnersRoom
from asfound.record.reads.past import shop_past
from asfound.record.reads.shop_plan import adopted_shop
from asfound.record.reads.workshop import planning_folder
from asfound.record.results.plan import promised
from asfound.record.shop_surprise import CarSurprise, surprise_of_hours

MOST_LISTED = 100
PROMISED = 0.8
_SAME_HOURS = 1e-3
"""Part of an option's hours by which rounding may move them."""


class ProposalForm(forms.Form):
    """What the workshop calls a proposal, and what it says to the owner."""

    title = forms.CharField(
        label="Title",
        max_length=120,
        error_messages={"required": "Give it a title that the owner will know it by."},
    )
    words = forms.CharField(
        label="To the owner",
        max_length=4000,
        required=False,
        widget=forms.Textarea(attrs={"rows": 4}),
        help_text="What you would say across the table: what was found, why this.",
    )


@login_required
@require_GET
def proposals(request: HttpRequest, slug: str) -> HttpResponse:
    """Proposals and change orders of the car, the last first."""
    car = open_car(request, slug)
    sent = car.proposals.select_related("by", "signature", "follows")[:MOST_LISTED]
    return show(request, "decisions/proposals.html", car=car, room="decisions", sent=sent)


@login_required
@require_http_methods(["GET", "POST"])
def new_proposal(request: HttpRequest, slug: str) -> HttpResponse:
    """What would be sent; a POST sends it."""
    car = open_car_to_write(request, slug)
    person = person_of(request)
    if person is None or not person.is_head:
        raise PermissionDenied("The head of the workshop sends what an owner is to sign.")
    folder, instead = planning_folder(car), asked_instead(request, car)
    form = ProposalForm(request.POST or None, initial=_first_words(folder, instead))
    before = last_signed(car)
    try:
        content, untested = _content(request, car, folder, before, instead)
    except AsfoundError as error:
        return _page(request, car, form, before, refusal=str(error), instead=instead, status=422)
    if request.method == "POST" and form.is_valid() and not untested:
        try:
            sent = _send(request, car, folder, form.cleaned_data, content, before)
        except InputError as error:
            form.add_error(None, str(error))
        else:
            messages.success(request, f"{sent} is sent.")
            return redirect("proposal", slug, sent.number)
    status = 422 if request.method == "POST" else 200
    agreed = {piece["subject"] for piece in before.content["pieces"]} if before else set()
    told = {
        "content": content,
        "untested": untested,
        "instead": instead,
        "added_n": sum(piece["subject"] not in agreed for piece in content["pieces"]),
    }
    return _page(request, car, form, before, status=status, **told)


def _first_words(folder: CarFolder, instead: Instead | None) -> dict[str, str]:
    """Title and words where findings reopen the piece that is to be changed."""
    piece = instead.piece if instead else ""
    found = [one.finding for one in open_holds(folder) if one.reopens and one.subject == piece]
    if not found:
        return {}
    return {"title": f"{piece}: a finding changes it"[:120], "words": f"Found: {'; '.join(found)}."}


def _page(
    request: HttpRequest,
    car: Car,
    form: ProposalForm,
    before: Proposal | None,
    *,
    status: int,
    **context: Any,
) -> HttpResponse:
    instead = context["instead"]
    waits, taken = open_order(car), instead.options if instead else {}
    left = {s: p for s, p in changed_by(waits).items() if taken.get(s) != p["option"]}
    released = car.releases.current().filter(room=OwnersRoom.DECISIONS).exists()
    return show(
        request,
        "decisions/proposal_new.html",
        status=status,
        car=car,
        room="decisions",
        form=form,
        before=before,
        owners=list(car.owners.select_related("user")),
        is_released=released,
        variant=request.GET.get("variant", ""),
        put_otherwise=put_otherwise(request, put_to_owner(request, before, instead)),
        waits=waits,
        waits_changes={} if instead and instead.along else left,
        waits_query=taken_up(waits),
        **context,
    )


def _content(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    before: Proposal | None,
    instead: Instead | None,
) -> tuple[dict[str, Any], tuple[UntestedPiece, ...]]:
    problem = choice_problem(folder)
    options, reasons = _chosen(request, car, folder, problem, instead)
    treatments = {(o.subject, o.option): o.treatment for o in problem.options}
    gone = [s for s, o in options.items() if (s, o) not in treatments]
    if gone or set(options) != {s.subject for s in problem.subjects}:
        raise InputError(
            field="variant",
            got="options or pieces that have changed since it was kept",
            allowed="one whose pieces all stand",
            remedy="Keep the variant anew.",
        )
    promise, moves = _promise(car, folder), None
    if before is not None and (moved := _moved(car, before, problem, options)) is not None:
        promise, moves = moved.late[2].isoformat(), moved.days_later
    content = proposal_content(
        folder,
        problem,
        options,
        reasons=reasons,
        signed=before.content if before else None,
        promise=promise,
        promise_moves=moves,
        asked=put_to_owner(request, before, instead),
    )
    check_keeps_begun(car=car, pieces=content["pieces"], is_change_order=before is not None)
    put = {piece["subject"]: piece["option"] for piece in content["pieces"]}
    return content, untested_pieces(folder, put, treatments)


def _promise(car: Car, folder: CarFolder) -> str:
    """Day by which the car is finished in 8 of 10 draws; empty without a plan.

    The plan that the shop acts on comes first: it knows the other cars. One whose day is past
    says nothing, and then the plan of the car alone is asked, where one is at hand.
    """
    adopted = adopted_shop()
    days = {one.car: one.p80 for one in adopted.cars} if adopted else {}
    if car.slug in days and days[car.slug] >= timezone.localdate():
        return days[car.slug].isoformat()
    result = plan_at_hand(folder, past=shop_past())
    if result is None or result.promise is None:
        return ""
    return promised(result.question, result.promise, PROMISED)


def _moved(
    car: Car, before: Proposal, problem: Problem, options: Mapping[str, str]
) -> CarSurprise | None:
    """What the hours that change do to the promise; none where the plan does not tell."""
    signed = {piece["subject"]: piece["hours"] for piece in before.content["pieces"]}
    hours = {(o.subject, o.option): sum(o.hours.values()) for o in problem.options}
    factors = {
        subject: hours[subject, option] / signed[subject]
        for subject, option in options.items()
        if signed.get(subject) and hours[subject, option]
    }
    changed = {s: factor for s, factor in factors.items() if abs(factor - 1) > _SAME_HOURS}
    try:
        return surprise_of_hours(car, changed, now=timezone.localtime()).cars[0]
    except AsfoundError:
        return None


def _chosen(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    problem: Problem,
    instead: Instead | None,
) -> tuple[Mapping[str, str], Mapping[str, str]]:
    """The options of the variant that is asked for, or those chosen now with their reasons.

    With a piece and another option for it, the car is chosen as if it were locked to that.
    """
    pk = request.GET.get("variant", "")
    if pk:
        found = car.variants.current().filter(pk=int(pk)).first() if pk.isdecimal() else None
        if found is None:
            raise Http404(pk)
        return found.options, {}
    if instead:
        return chosen_instead(problem, instead), instead.reasons
    result = choice_result(folder)
    if result.choice is None:
        raise InputError(
            field="brief",
            got="; ".join(result.clash),
            allowed="one that can be met",
            remedy="Move a limit first.",
        )
    return result.choice.options, {why.subject: why.because for why in result.whys if why.proved}


def _send(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    data: Mapping[str, str],
    content: Mapping[str, Any],
    before: Proposal | None,
) -> Proposal:
    number, now = next_number(car), timezone.now()
    head = Head(
        car=folder.name,
        invented=car.is_invented,
        number=number,
        title=data["title"],
        words=data["words"],
        sent_on=timezone.localdate(now),
        follows=str(before) if before else "",
    )
    return send_proposal(
        car=car,
        title=data["title"],
        words=data["words"],
        content=content,
        document=make_proposal(content, head=head, picture=picture_on_shelf),
        number=number,
        sent_at=now,
        by=request.user,
    )
