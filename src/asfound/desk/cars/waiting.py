"""What waits for somebody, over all cars that a person sees, each with its page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from django.db.models import QuerySet
from django.http import HttpRequest
from django.urls import reverse
from django.utils import timezone

from asfound.desk.access import may_write
from asfound.desk.decisions.answers import said_of
from asfound.desk.work.lines import card_address
from asfound.record.convert.holds import HEAD, HOLDS, OWNER, Hold, hold_of
from asfound.record.convert.worked import moment
from asfound.record.models import Answer, Car, Observation, Proposal
from asfound.record.models.release import OwnersRoom
from asfound.record.reads import cars_for
from asfound.record.reads.errands import overdue_errands
from asfound.record.reads.people import cars_with_room
from asfound.record.reads.proposals import open_proposals
from asfound.record.reads.worked import open_stretches

SHOWN = 8


@dataclass(frozen=True, slots=True, kw_only=True)
class Waiting:
    """One thing that waits: what it is, on which car, since when, and where to see to it."""

    what: str
    detail: str
    car: str
    since: str
    href: str
    promise: str = ""
    """Address of what it does to the promise, where it is a hold."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WaitingList:
    """What waits, at most ``SHOWN`` of it, and how much there is."""

    lines: list[Waiting]
    n: int

    @property
    def more_n(self) -> int:
        """What waits and is not shown."""
        return self.n - len(self.lines)


def waiting_for(request: HttpRequest) -> WaitingList:
    """What the workshop has to see to; for an owner, what they are asked to read and sign."""
    if not may_write(request):
        return waiting_for_owner(cars_for(request.user), request.user)
    return _listed(_for_workshop(request.user))


def waiting_for_owner(cars: QuerySet[Car], user: Any) -> WaitingList:
    """What an owner is asked to see, read and sign on some of their cars."""
    return _listed(_for_owner(cars, user))


def _listed(found: Iterator[Waiting]) -> WaitingList:
    lines = list(found)
    return WaitingList(lines=lines[:SHOWN], n=len(lines))


def _for_owner(cars: QuerySet[Car], user: Any) -> Iterator[Waiting]:
    yield from _held(cars, OWNER, "The workshop waits for you")
    open_to_them = cars_with_room(user, OwnersRoom.DECISIONS).filter(pk__in=cars.values("pk"))
    for proposal in open_proposals(open_to_them):
        what = "Change to sign" if proposal.follows_id else "Proposal to read and sign"
        yield _of_proposal(proposal, what=what, detail=proposal.title)


def _for_workshop(user: Any) -> Iterator[Waiting]:
    cars = cars_for(user)
    proposals = list(open_proposals(cars))
    for proposal in proposals:
        yield from _unanswered(proposal)
    yield from _overdue(cars)
    yield from _held(cars, HEAD, "The head must see")
    yield from _running()
    for proposal in proposals:
        yield _of_proposal(proposal, what="Not signed yet", detail=str(proposal))


def _unanswered(proposal: Proposal) -> Iterator[Waiting]:
    """Pieces of a proposal on which the owner had the last word, and it was no yes."""
    answers = list(proposal.answers.all())
    for subject in dict.fromkeys(answer.subject for answer in answers):
        last = said_of(answers, subject)[-1]
        what = {Answer.Kind.QUESTION: "The owner asks", Answer.Kind.NO: "The owner does not agree"}
        if told := what.get(Answer.Kind(last.kind)):
            detail = f"{subject or 'the whole proposal'}: “{last.words}”".removesuffix(": “”")
            yield _of_proposal(proposal, what=told, detail=detail, at=last.at)


def _of_proposal(proposal: Proposal, *, what: str, detail: str, at: Any = None) -> Waiting:
    car = proposal.car
    since = timezone.localdate(at or proposal.sent_at)
    href = reverse("proposal", args=(car.slug, proposal.number))
    return Waiting(what=what, detail=detail, car=str(car), since=_since(since), href=href)


def _overdue(cars: QuerySet[Car]) -> Iterator[Waiting]:
    today = timezone.localdate()
    for row, errand in overdue_errands(cars=cars, today=today):
        late = -(errand.days_left or 0)
        yield Waiting(
            what="Overdue from outside",
            detail=f"{row.subject}, {errand.work or 'sent out'} at {errand.to}",
            car=str(row.car),
            since=_since(today - timedelta(days=late)),
            href=reverse("errand", args=(row.car.slug, row.pk)),
        )


def _held(cars: QuerySet[Car], kind: str, what: str) -> Iterator[Waiting]:
    rows = Observation.objects.current().filter(car__in=cars, table=HOLDS, cells__kind=kind)
    for row in rows.select_related("car"):
        hold = hold_of(row.cells)
        if hold.is_open:
            yield Waiting(
                what="Finding reopens a decision" if hold.finding else what,
                detail=f"{hold.subject}: {hold.finding or hold.why}",
                car=str(row.car),
                since=_since(timezone.localdate(hold.set_at or row.entered_at)),
                href=_to_settle(row, hold),
                promise=_promise_address(row) if kind == HEAD else "",
            )


def _promise_address(row: Observation) -> str:
    return reverse("hold-and-promise", args=(row.car.slug, row.pk)) + "?brief=1"


def _to_settle(row: Observation, hold: Hold) -> str:
    if hold.finding:
        return reverse("reopened", args=(row.car.slug, row.pk))
    return reverse("holds", args=(row.car.slug,))


def _running() -> Iterator[Waiting]:
    """Work that was begun on an earlier day and neither paused nor ended."""
    today = timezone.localdate()
    for row in open_stretches():
        begun = moment(row.cells.get("from_at", ""))
        if begun is not None and timezone.localdate(begun) < today:
            yield _left_running(row, timezone.localdate(begun))


def _left_running(row: Observation, since: date) -> Waiting:
    task = row.cells.get("task", "")
    return Waiting(
        what="Clock still running",
        detail=f"{row.cells.get('person', '')} at {task}",
        car=str(row.car),
        since=_since(since),
        href=card_address(row.car.slug, task),
    )


def _since(day: date) -> str:
    days = (timezone.localdate() - day).days
    return f"since {day:%-d %B}" + (f", {days} days" if days > 1 else "")
