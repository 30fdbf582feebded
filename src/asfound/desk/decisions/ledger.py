"""The ledger from as found to as left: by finish, part and significance, down to the piece."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_GET

from asfound.base import AsfoundError
from asfound.choose import Problem
from asfound.desk.access import open_car, show
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.ledger_steps import (
    LedgerSteps,
    Stage,
    StepPiece,
    days_left,
    ledger_steps,
    left_of,
)
from asfound.record.convert.stored import folder_of
from asfound.record.derived import chosen_now, found_ledger
from asfound.record.evidence.ledger import Ledger
from asfound.record.folder import CarFolder
from asfound.record.results.ledger import state_words
from asfound.weigh.ledger import Piece

PIECES_A_PAGE = 200
DAYS_SHOWN = 40


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to count: its name and its three steps."""

    name: str
    pieces_n: int
    steps: tuple[tuple[str, Stage], ...]


@login_required
@require_GET
def ledger(request: HttpRequest, slug: str) -> HttpResponse:
    """Page of the ledger in three steps."""
    car = open_car(request, slug)
    folder = folder_of(car)
    try:
        found = found_ledger(folder)
    except AsfoundError as error:
        return show(request, "decisions/ledger.html", car=car, room="decisions", refusal=str(error))
    decided, is_decided = _decided(folder)
    left = left_of(folder)
    each = [
        (name, ledger_steps(pieces, decided=decided, left=left)) for name, pieces in _ways(found)
    ]
    every = {line.name: line for _, steps in (each[0], each[2]) for line in steps.pieces}
    page = Paginator(sorted(every.values(), key=_told_first), PIECES_A_PAGE).get_page(
        request.GET.get("page")
    )
    return show(
        request,
        "decisions/ledger.html",
        car=car,
        room="decisions",
        ways=[_way(name, steps) for name, steps in each if steps.pieces],
        is_decided=is_decided,
        page=page,
        lines=[(line, state_words(line.state)) for line in page],
        over_time=_over_time(folder, found),
    )


def _ways(found: Ledger) -> tuple[tuple[str, tuple[Piece, ...]], ...]:
    return (
        ("by area of finish", found.finish),
        ("by part", tuple(replace(piece, amount=1.0) for piece in found.parts)),
        ("by significance of the parts", found.parts),
    )


def _way(name: str, steps: LedgerSteps) -> Way:
    return Way(
        name=name,
        pieces_n=len(steps.pieces),
        steps=(
            ("as found", steps.found),
            ("as decided", steps.decided),
            ("as left so far", steps.left),
        ),
    )


def _decided(folder: CarFolder) -> tuple[dict[str, float], bool]:
    """Share kept of every piece by the choice as it stands; none where there is no choice."""
    try:
        problem, choice = choice_problem(folder), chosen_now(folder)
    except AsfoundError:
        return {}, False
    return _kept(problem, choice.options), True


def _kept(problem: Problem, options: Mapping[str, str]) -> dict[str, float]:
    return {o.subject: o.kept for o in problem.options if options.get(o.subject) == o.option}


def _told_first(line: StepPiece) -> tuple[bool, bool, str]:
    return line.left is None, line.decided is None, line.name


def _over_time(folder: CarFolder, found: Ledger) -> list[tuple[str, Stage]]:
    """Shares of the parts, or of the finish without any, after each day that finished a piece."""
    listed = found.parts or found.finish
    return [
        (day, ledger_steps(listed, decided={}, left=left_of(folder, until=day)).left)
        for day in days_left(folder)[-DAYS_SHOWN:]
    ]
