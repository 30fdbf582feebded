"""The ledger as found, and every piece with the weight that its state rests on."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show, wants_whole
from asfound.desk.evidence.lines import piece_lines, share_rows
from asfound.dossier.figures import shares_svg
from asfound.record.convert.stored import folder_of
from asfound.record.derived import found_ledger
from asfound.record.evidence.ledger import Ledger
from asfound.record.folder import CarFolder
from asfound.record.results.ledger import NOT_KNOWN
from asfound.weigh import SCALE

MOST_BARE = 300
"""Parts of which nothing was weighed that the page names; the register has them all."""


@login_required
@require_GET
def evidence(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the ledger and of all pieces, which fill themselves in."""
    car = open_car(request, slug)
    context = _ledger_or_refusal(folder_of(car)) if wants_whole(request) else {}
    return show(request, "evidence/page.html", car=car, room="evidence", **context)


@login_required
@require_GET
def ledger(request: HttpRequest, slug: str) -> HttpResponse:
    """The ledger and all pieces, as a fragment of the page."""
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('evidence', args=(slug,))}?whole=1")
    car = open_car(request, slug)
    return show(request, "evidence/_ledger.html", car=car, **_ledger_or_refusal(folder_of(car)))


def _ledger_or_refusal(folder: CarFolder) -> dict[str, Any]:
    context: dict[str, Any] = {"shown": True, "scale": SCALE, "not_known": NOT_KNOWN}
    try:
        return context | _told(found_ledger(folder))
    except AsfoundError as error:
        return context | {"refusal": str(error)}


def _told(ledger: Ledger) -> dict[str, Any]:
    accounts = [
        ("by area of finish", ledger.by_area),
        ("by part", ledger.by_part),
        ("by significance", ledger.by_significance),
    ]
    counted = [(name, account) for name, account in accounts if account.total]
    parts = piece_lines(ledger.parts, ledger)
    bare = [line for line in parts if not line.lean and line.state == "U"]
    return {
        "ledger": ledger,
        "figure": shares_svg(counted) if counted else "",
        "shares": share_rows(ledger),
        "finish": piece_lines(ledger.finish, ledger),
        "parts": [line for line in parts if line.lean or line.state != "U"],
        "bare": bare[:MOST_BARE],
        "bare_n": len(bare),
        "more_n": max(0, len(bare) - MOST_BARE),
    }
