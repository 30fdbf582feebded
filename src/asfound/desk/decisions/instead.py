"""Another option of one piece, as the address of a change order asks for it."""

from __future__ import annotations

from collections.abc import Mapping

from django.http import Http404, HttpRequest

from asfound.choose import Problem
from asfound.record.derived import choose_instead


def asked_instead(request: HttpRequest) -> tuple[str, str] | None:
    """Piece that a change order is asked for, and the option that it is to have."""
    piece, option = request.GET.get("piece", ""), request.GET.get("option", "")
    return (piece, option) if piece and option else None


def chosen_instead(problem: Problem, piece: str, option: str) -> Mapping[str, str]:
    """The choice with that option; an option that may not be chosen has no address."""
    if (piece, option) not in {(o.subject, o.option) for o in problem.options if o.safe}:
        raise Http404(f"{piece}: {option}")
    return choose_instead(problem, piece, option)
