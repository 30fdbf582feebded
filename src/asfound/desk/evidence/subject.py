"""The evidence on one part or panel, as a balance and as a table."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show, wants_whole
from asfound.desk.evidence.lines import claim_blocks
from asfound.desk.evidence.rows import RowLine, row_lines, set_aside
from asfound.desk.photos.named import Named, photos_named
from asfound.record.convert.stored import folder_of
from asfound.record.derived import found_ledger, weighed_evidence
from asfound.record.evidence.ledger import Ledger
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.record.results.ledger import state_words
from asfound.weigh import SCALE
from asfound.weigh.evidence import same_words


@login_required
@require_GET
def subject(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Page of the evidence on a part or a panel, which fills itself in."""
    car = open_car(request, slug)
    folder = folder_of(car)
    if not _is_known(folder, subject):
        raise Http404(subject)
    context = _claims_or_refusal(request, car, folder, subject) if wants_whole(request) else {}
    context["subject"] = subject
    return show(request, "evidence/subject.html", car=car, room="evidence", **context)


@login_required
@require_GET
def claims(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """What is claimed of a part or a panel, weighed, as a fragment of its page."""
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('evidence-of', args=(slug, subject))}?whole=1")
    car = open_car(request, slug)
    context = _claims_or_refusal(request, car, folder_of(car), subject)
    return show(request, "evidence/_claims.html", car=car, subject=subject, **context)


def _claims_or_refusal(
    request: HttpRequest, car: Car, folder: CarFolder, subject: str
) -> dict[str, Any]:
    context: dict[str, Any] = {"shown": True, "scale": SCALE}
    try:
        rows = _rows(folder, subject, car.slug)
        context["aside"] = list(set_aside(rows))
        context["photographed"] = _photographed(request, car, rows)
        blocks = claim_blocks(weighed_evidence(folder), subject=subject, slug=car.slug, rows=rows)
        return context | {"blocks": blocks, "states": _states(found_ledger(folder), subject)}
    except AsfoundError as error:
        return context | {"refusal": str(error)}


def _rows(folder: CarFolder, subject: str, slug: str) -> list[RowLine]:
    lines = (*row_lines(folder, "evidence", slug), *row_lines(folder, "wear", slug))
    return [line for line in lines if same_words(line.subject) == same_words(subject)]


def _photographed(
    request: HttpRequest, car: Car, rows: list[RowLine]
) -> list[tuple[RowLine, Named]]:
    """Rows that name photographs, with these."""
    named = photos_named(request, car, (line.row.text("photo") for line in rows))
    return [(line, named[text]) for line in rows if (text := line.row.text("photo")) in named]


def _states(ledger: Ledger, subject: str) -> list[tuple[str, str, str]]:
    """State of the piece, what it rests on and the rule; a name may be a part and a panel."""
    return [
        (
            state_words(piece.decided.state),
            piece.decided.because,
            piece.decided.rule.words if piece.decided.rule else "",
        )
        for piece in (*ledger.parts, *ledger.finish)
        if same_words(piece.name) == same_words(subject)
    ]


def _is_known(folder: CarFolder, subject: str) -> bool:
    """Whether a part, a panel, or something written down of the car is called so."""
    named = (
        *(("parts", "part"), ("panels", "panel"), ("film", "panel")),
        *(("evidence", "subject"), ("events", "subject")),
        *(("identifiers", "part"), ("wear", "part")),
    )
    return any(
        same_words(row.text(column)) == same_words(subject)
        for table, column in named
        for row in folder.sheet(table)
    )
