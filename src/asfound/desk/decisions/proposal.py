"""A proposal as the owner reads it: asked about, answered, signed; and its documents."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.core.exceptions import PermissionDenied
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from asfound.base import InputError
from asfound.desk.access import open_car, open_car_to_write, person_of, show
from asfound.desk.decisions.answers import said_of, standing, standing_whole
from asfound.dossier.proposal import Head, Signed, make_proposal
from asfound.exchange.photographs import PRINT_PX, kept_picture, picture_on_shelf
from asfound.record.actions import (
    answer_proposal,
    check_can_sign,
    is_owner_of,
    open_kept_file,
    sign_proposal,
    withdraw_proposal,
)
from asfound.record.folder import KeptFile
from asfound.record.models import Answer, Car, Proposal


@login_required
@require_GET
def proposal(request: HttpRequest, slug: str, number: int) -> HttpResponse:
    """Page of a proposal."""
    car = open_car(request, slug)
    return _page(request, car, _of(car, number))


def _page(
    request: HttpRequest, car: Car, found: Proposal, *, status: int = 200, **context: Any
) -> HttpResponse:
    answers = list(found.answers.select_related("by"))
    person, pieces = person_of(request), _pieces(found, answers)
    changed = [piece for piece in pieces if piece["signed"]]
    added = [piece for piece in pieces if piece["was"] and not piece["signed"]]
    standing_still = [piece for piece in pieces if not piece["was"]]
    return show(
        request,
        "decisions/proposal.html",
        status=status,
        car=car,
        room="decisions",
        proposal=found,
        zones=_zones(standing_still if found.follows else pieces),
        standing_n=len(standing_still),
        whole=said_of(answers, ""),
        whole_stands=standing_whole(answers, [piece["subject"] for piece in pieces]),
        changed=changed,
        added=added,
        may_answer=found.is_open and is_owner_of(car, request.user),
        may_reply=found.is_open and person is not None and not person.is_owner,
        is_head=person is not None and person.is_head,
        why_not=_why_not(found, request),
        **context,
    )


def _pieces(found: Proposal, answers: list[Answer]) -> list[dict[str, Any]]:
    """Pieces with what was said of each, and how each stood where the proposal changes it."""
    follows = found.follows.content["pieces"] if found.follows else ()
    before = {piece["subject"]: piece for piece in follows}
    return [
        {
            **piece,
            "place": place,
            "said": said_of(answers, piece["subject"]),
            "stands": standing(answers, piece["subject"]),
            "signed": before.get(piece["subject"]) if piece["was"] else None,
        }
        for place, piece in enumerate(found.content["pieces"], 1)
    ]


def _zones(pieces: list[dict[str, Any]]) -> list[dict[str, Any]]:
    zones: dict[str, list[dict[str, Any]]] = {}
    for piece in pieces:
        zones.setdefault(piece["zone"] or "other pieces", []).append(piece)
    return [{"zone": zone, "pieces": several} for zone, several in zones.items()]


def _why_not(found: Proposal, request: HttpRequest) -> str:
    """Why the person cannot sign; empty when they can."""
    try:
        check_can_sign(proposal=found, by=request.user)
    except (InputError, PermissionDenied) as error:
        return str(error)
    return ""


@login_required
@require_POST
def answer(request: HttpRequest, slug: str, number: int) -> HttpResponse:
    """What somebody says to the proposal, of one piece or of the whole."""
    car = open_car(request, slug)
    found, subject = _of(car, number), request.POST.get("subject", "")
    try:
        answer_proposal(
            proposal=found,
            subject=subject,
            kind=request.POST.get("kind", ""),
            words=request.POST.get("words", "")[:4000],
            by=request.user,
        )
    except InputError as error:
        messages.warning(request, str(error))
    place = next(
        (i for i, p in enumerate(found.content["pieces"], 1) if p["subject"] == subject), None
    )
    anchor = f"#piece-{place}" if place else "#whole"
    return redirect(reverse("proposal", args=(slug, number)) + anchor)


@login_required
@require_POST
def sign(request: HttpRequest, slug: str, number: int) -> HttpResponse:
    """The owner's signature."""
    car = open_car(request, slug)
    found = _of(car, number)
    name, now = request.POST.get("typed_name", "").strip()[:120], timezone.now()
    try:
        check_can_sign(proposal=found, by=request.user)
        sign_proposal(
            proposal=found,
            typed_name=name,
            seen_sha256=request.POST.get("seen", ""),
            signed_at=now,
            document=_signed_document(request, car, found, name, now),
            by=request.user,
        )
    except InputError as error:
        return _page(request, car, found, status=422, fault=str(error), typed_name=name)
    messages.success(request, "Signed. The signed document is kept with its hash.")
    return redirect("proposal", slug, number)


def _signed_document(request: HttpRequest, car: Car, found: Proposal, name: str, now: Any) -> bytes:
    head = Head(
        car=f"{car.marque} {car.model} {car.registration}".strip(),
        invented=car.is_invented,
        number=found.number,
        title=found.title,
        words=found.words,
        sent_on=timezone.localdate(found.sent_at),
        follows=str(found.follows) if found.follows else "",
    )
    signed = Signed(
        typed_name=name,
        account=request.user.get_username(),
        at=timezone.localtime(now),
        document_sha256=found.document_sha256,
    )
    return make_proposal(found.content, head=head, picture=picture_on_shelf, signed=signed)


@login_required
@require_POST
def withdraw(request: HttpRequest, slug: str, number: int) -> HttpResponse:
    """The head takes an open proposal back, with the reason."""
    car = open_car_to_write(request, slug)
    try:
        reason = request.POST.get("reason", "")
        withdraw_proposal(proposal=_of(car, number), reason=reason, by=request.user)
    except InputError as error:
        messages.warning(request, str(error))
    return redirect("proposal", slug, number)


@login_required
@require_GET
def document(request: HttpRequest, slug: str, number: int, which: str) -> FileResponse:
    """Bytes of the document as sent, or as signed."""
    car = open_car(request, slug)
    found = _of(car, number)
    if which == "signed" and not found.is_signed:
        raise Http404(which)
    sha256, size = (
        (found.signature.signed_sha256, found.signature.signed_size)
        if which == "signed"
        else (found.document_sha256, found.document_size)
    )
    name = f"{slug}-{number}-{which}.pdf"
    kept = KeptFile(path=name, sha256=sha256, size=size)
    return FileResponse(
        open_kept_file(kept), as_attachment=True, filename=name, content_type="application/pdf"
    )


@login_required
@require_GET
def picture(request: HttpRequest, slug: str, number: int, sha256: str) -> FileResponse:
    """A photograph that the proposal shows, small, upright and without its place."""
    car = open_car(request, slug)
    pieces = _of(car, number).content["pieces"]
    if sha256 not in {sha for p in pieces for sha in (p["photo"], *p.get("found_photos", ()))}:
        raise Http404(sha256)
    try:
        place = kept_picture(sha256, longest_px=PRINT_PX)
    except (OSError, ValueError):
        raise Http404(sha256) from None
    return FileResponse(place.open("rb"), content_type="image/jpeg")


def _of(car: Car, number: int) -> Proposal:
    rows = car.proposals.select_related("by", "signature__by", "follows", "withdrawn_by")
    found = rows.filter(number=number).first()
    if found is None:
        raise Http404(number)
    return found
