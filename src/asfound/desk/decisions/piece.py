"""One piece: its options beside each other, what is chosen and why, and what people decided."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_GET, require_http_methods

from asfound.base import AsfoundError
from asfound.choose import Option, Problem, Subject
from asfound.craft.cautions import DEFER, Caution, cautions_for
from asfound.desk.access import may_write, open_car, show, wants_whole
from asfound.desk.decisions.choosing import waiting_for_choice
from asfound.desk.decisions.dissent_lines import dissent_lines
from asfound.desk.decisions.forms import LockForm
from asfound.desk.decisions.offers import untouched_offers
from asfound.desk.decisions.on_car import OnCarForm
from asfound.desk.decisions.pieces import piece_lines
from asfound.desk.decisions.small_sheet import sheet_of_piece
from asfound.desk.decisions.ties import seams_now, ties_of
from asfound.record.actions import can_dissent, last_signed
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.holds import HOLDS, Hold, hold_of
from asfound.record.convert.past_hours import PastHours
from asfound.record.convert.significance import Weights
from asfound.record.convert.stored import folder_of
from asfound.record.derived import ChoiceResult, choice_result, turning_of
from asfound.record.faults import InputFaultsError
from asfound.record.folder import CarFolder
from asfound.record.models import Car, Photo
from asfound.record.reads.past import shop_past

TIES_SHOWN = 6
DECISIONS_SHOWN = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class OptionCard:
    """One way to treat the piece, as a card beside the others."""

    option: str
    treatment: str
    kept: float
    grade: float
    cost: float
    hours: list[tuple[str, float]]
    undoable: str
    is_safe: bool
    is_below_floor: bool
    is_locked: bool
    ties: list[str]
    past: tuple[PastHours, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A subject of the choice with its options."""

    subject: Subject
    floor: float
    options: tuple[Option, ...]
    problem: Problem

    @property
    def cards(self) -> list[OptionCard]:
        """Options in the order of what they keep, the most first."""
        ordered = sorted(self.options, key=lambda o: (-o.kept, o.cost, o.option))
        return [self._card(option) for option in ordered]

    @property
    def cautions(self) -> list[Caution]:
        """Dangers that the piece or a way to treat it calls for."""
        words = [self.subject.subject, self.subject.zone]
        words += [word for o in self.options for word in (o.option, o.treatment)]
        return [caution for caution in cautions_for(words) if caution.called_by]

    @property
    def open_options(self) -> list[str]:
        """Names of the options that may be chosen."""
        return [option.option for option in self.options if option.safe]

    def _card(self, option: Option) -> OptionCard:
        return OptionCard(
            option=option.option,
            treatment=option.treatment,
            kept=option.kept,
            grade=option.grade,
            cost=option.cost,
            hours=[(name, hours) for name, hours in option.hours.items() if hours],
            undoable=option.undoable,
            is_safe=option.safe,
            is_below_floor=option.grade < self.floor,
            is_locked=option.option == self.subject.locked_option,
            ties=list(ties_of(self.problem, option))[:TIES_SHOWN],
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Along:
    """One option of a piece along the front, with the costs of the car between which it stands."""

    option: str
    since: float
    until: float


def find_piece(folder: CarFolder, name: str) -> Piece:
    """Piece of that name; an address without one does not exist."""
    try:
        problem = choice_problem(folder)
    except InputFaultsError:
        raise Http404(name) from None
    subject = next((s for s in problem.subjects if s.subject == name), None)
    if subject is None:
        raise Http404(name)
    return Piece(
        subject=subject,
        floor=max(subject.min_grade, problem.brief.min_grade.get(subject.zone, 0.0)),
        options=tuple(option for option in problem.options if option.subject == name),
        problem=problem,
    )


def _along(result: ChoiceResult, subject: str) -> list[Along]:
    """What the piece is given from the cheap end of the front to the dear one, where it changes."""
    found: list[Along] = []
    for point in result.front.points if result.front else ():
        option = point.options[subject]
        if found and found[-1].option == option:
            found[-1] = replace(found[-1], until=point.cost)
        else:
            found.append(Along(option=option, since=point.cost, until=point.cost))
    return found


@login_required
@require_GET
def piece(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """Page of a piece; why it is chosen fills itself in."""
    car = open_car(request, slug)
    folder = folder_of(car)
    found = find_piece(folder, subject)
    form = LockForm(options=found.open_options)
    return show_piece(request, car, folder, found, form)


def show_piece(
    request: HttpRequest,
    car: Car,
    folder: CarFolder,
    found: Piece,
    form: LockForm,
    *,
    status: int = 200,
) -> HttpResponse:
    """Page of a piece with its form as it stands."""
    name = found.subject.subject
    decided = car.decisions.filter(subject=name).select_related("by", "withdrawn_by")
    history = list(decided.order_by("-pk")[:DECISIONS_SHOWN])
    lock = next((d for d in history if d.withdrawn_at is None), None)
    return show(
        request,
        "decisions/piece.html",
        status=status,
        car=car,
        room="decisions",
        piece=found,
        defer=DEFER,
        options=_with_past(folder, found.cards, name),
        lock=lock,
        dissents=dissent_lines(car, name, lock, by=request.user),
        may_dissent=can_dissent(car=car, subject=name, by=request.user),
        may_lock=may_write(request) and not (lock and found.subject.begun),
        history=history,
        form=form,
        before=_before(car, name),
        small_sheet=sheet_of_piece(
            folder, car.slug, name, [one.subject for one in found.problem.subjects]
        ),
        on_car=OnCarForm(folder, name),
        signed=last_signed(car),
        reopened=_reopened(car, name) if may_write(request) else [],
        weight=Weights(folder).of(name),
        **(_whole_why(folder, name) if wants_whole(request) else {}),
    )


def _with_past(folder: CarFolder, cards: list[OptionCard], name: str) -> list[OptionCard]:
    """The cards, with what finished work says of options that still have the table's hours."""
    if not len(folder.sheet("treatment_rates")):
        return cards
    told = {one.option.key: one.past for one in untouched_offers(folder, shop_past())}
    return [replace(card, past=told.get((name, card.option), ())) for card in cards]


def _reopened(car: Car, subject: str) -> list[tuple[int, Hold]]:
    """Findings that reopen what was decided, with the numbers of their pages."""
    rows = car.observations.current().filter(table=HOLDS, subject=subject)
    holds = [(row.pk, hold_of(row.cells)) for row in rows]
    return [(pk, hold) for pk, hold in holds if hold.is_open and hold.reopens]


def _before(car: Car, subject: str) -> Photo | None:
    """The first photograph of the piece before the work."""
    found: Photo | None = (
        car.photos.current().filter(subject=subject, stage__in=("", "before")).first()
    )
    return found


@login_required
@require_http_methods(["GET", "POST"])
def why(request: HttpRequest, slug: str, subject: str) -> HttpResponse:
    """What is chosen for a piece and why, as a fragment of its page."""
    if not getattr(request, "htmx", False):
        return redirect(f"{reverse('piece', args=(slug, subject))}?whole=1")
    car = open_car(request, slug)
    folder = folder_of(car)
    find_piece(folder, subject)
    waiting = waiting_for_choice(request, car, folder)
    if waiting is not None:
        return waiting
    return show(request, "decisions/_piece_why.html", car=car, **_why(folder, subject))


def _whole_why(folder: CarFolder, name: str) -> dict[str, Any]:
    """What fills itself in elsewhere, for a page that is shown whole."""
    told = _why(folder, name)
    if "line" not in told:
        return told
    try:
        return told | {"turning": turning_of(folder, name)}
    except AsfoundError as error:
        return told | {"refused": str(error)}


def _why(folder: CarFolder, name: str) -> dict[str, Any]:
    try:
        result = choice_result(folder)
    except AsfoundError as error:
        return {"shown": True, "refusal": str(error)}
    if result.choice is None:
        return {"shown": True, "clash": result.clash}
    problem = choice_problem(folder)
    lines = piece_lines(problem, result, folder)
    return {
        "shown": True,
        "line": next(line for line in lines if line.subject == name),
        "seams": list(seams_now(problem, result.choice.options, name)),
        "along": _along(result, name),
    }
