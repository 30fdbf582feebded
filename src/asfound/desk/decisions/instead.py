"""A change order for one piece, as its address asks for it, with what an open one changes."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any
from urllib.parse import urlencode

from django.http import Http404, HttpRequest

from asfound.choose import Problem
from asfound.record.actions import open_proposal
from asfound.record.derived import choose_instead
from asfound.record.models import Car, Proposal

_ALONE = "alone"
"""Name in the address that leaves out what the open order changes."""
_PUT = "put"
"""Name in the address: ``all`` pieces are put to the owner, or what was ``signed`` and changes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Instead:
    """One piece and the option that it is to have.

    Parameters
    ----------
    piece, option : str
    taken : Proposal or None
        A change order that waits for the owner and is withdrawn when this one is sent.
    along : mapping of str to mapping
        Its other pieces that it changes or adds; they go along, so that none is forgotten.
    """

    piece: str
    option: str
    taken: Proposal | None = None
    along: Mapping[str, Mapping[str, Any]]
    because: str = "this is what the order changes"

    @property
    def options(self) -> dict[str, str]:
        """Options by piece that are held to."""
        return {**{s: str(p["option"]) for s, p in self.along.items()}, self.piece: self.option}

    @property
    def reasons(self) -> dict[str, str]:
        """Why, by piece."""
        told = {subject: str(piece["because"]) for subject, piece in self.along.items()}
        return {**told, self.piece: self.because}


def asked_instead(request: HttpRequest, car: Car) -> Instead | None:
    """The change order that the address asks for, if it asks for one piece."""
    piece, option = request.GET.get("piece", ""), request.GET.get("option", "")
    if not (piece and option):
        return None
    taken = None if _ALONE in request.GET else open_order(car)
    along = changed_by(taken)
    same = along.pop(piece, {})
    why = {"because": same["because"]} if same.get("option") == option else {}
    return Instead(piece=piece, option=option, taken=taken, along=along, **why)


def open_order(car: Car) -> Proposal | None:
    """A change order that waits for the owner."""
    waiting = open_proposal(car)
    return waiting if waiting is not None and waiting.follows is not None else None


def changed_by(order: Proposal | None) -> dict[str, Mapping[str, Any]]:
    """Pieces that an order changes or adds, by name."""
    return {p["subject"]: p for p in order.content["pieces"] if p["was"]} if order else {}


def taken_up(order: Proposal | None) -> str:
    """Query of the address at which all that an order changes goes into the next; or empty."""
    first = next(iter(changed_by(order).values()), None)
    if first is None:
        return ""
    return urlencode({"piece": first["subject"], "option": first["option"], _PUT: "all"})


def put_to_owner(
    request: HttpRequest, signed: Proposal | None, instead: Instead | None
) -> Collection[str] | None:
    """Pieces that are put to the owner, none for all of them.

    An order for one piece asks for what was signed and what it changes; what nobody has agreed on
    yet stays open, unless the address asks otherwise.
    """
    if signed is None or request.GET.get(_PUT, "signed" if instead else "all") == "all":
        return None
    agreed = {str(piece["subject"]) for piece in signed.content["pieces"]}
    return agreed | set(instead.options if instead else ())


def put_otherwise(request: HttpRequest, put: Collection[str] | None) -> str:
    """Query of the address that puts the other pieces to the owner too, or leaves them open."""
    asked = request.GET.copy()
    asked[_PUT] = "signed" if put is None else "all"
    return asked.urlencode()


def chosen_instead(problem: Problem, instead: Instead) -> Mapping[str, str]:
    """The choice with those options; an option that may not be chosen has no address."""
    safe = {(o.subject, o.option) for o in problem.options if o.safe}
    if (instead.piece, instead.option) not in safe:
        raise Http404(f"{instead.piece}: {instead.option}")
    return choose_instead(problem, {s: o for s, o in instead.options.items() if (s, o) in safe})
