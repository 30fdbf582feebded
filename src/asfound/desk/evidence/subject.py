"""The evidence on one part or panel, as a balance and as a table."""

from __future__ import annotations

from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.desk.access import open_car, show
from asfound.desk.evidence.lines import claim_blocks
from asfound.record.convert.stored import folder_of
from asfound.record.derived import found_ledger, weighed_evidence
from asfound.record.evidence.ledger import Ledger
from asfound.record.folder import CarFolder
from asfound.record.results.ledger import state_words
from asfound.weigh import SCALE
from asfound.weigh.evidence import same_words


@login_required
@require_GET
def subject(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Page of the evidence on a part or a panel."""
    car = open_car(request, slug)
    folder = folder_of(car)
    context: dict[str, Any] = {"subject": subject, "scale": SCALE}
    try:
        blocks = claim_blocks(weighed_evidence(folder), subject=subject, slug=slug)
        context |= {"blocks": blocks, "states": _states(found_ledger(folder), subject)}
    except AsfoundError as error:
        context["refusal"] = str(error)
    else:
        if not blocks and not _is_known(folder, subject):
            raise Http404(subject)
    return show(request, "evidence/subject.html", car=car, room="evidence", **context)


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
    named = (("parts", "part"), ("panels", "panel"))
    return any(
        row.text(column) == subject for table, column in named for row in folder.sheet(table)
    )
