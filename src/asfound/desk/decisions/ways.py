"""The three ways to count the ledger, through its steps and over time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from django.utils import timezone

from asfound.base import AsfoundError
from asfound.choose import Problem
from asfound.record.convert.choice import choice_problem
from asfound.record.convert.ledger_days import LedgerDay, Signed, finished_of, ledger_days
from asfound.record.convert.ledger_steps import LedgerSteps, Stage, ledger_steps, left_of
from asfound.record.derived import chosen_now, found_ledger
from asfound.record.folder import CarFolder
from asfound.record.models import Car
from asfound.weigh.ledger import Piece

WAYS = {
    "finish": "by area of finish",
    "parts": "by part",
    "significance": "by significance of the parts",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Way:
    """One way to count: its word in addresses, its name, and its three steps."""

    word: str
    name: str
    told: LedgerSteps

    @property
    def pieces_n(self) -> int:
        """How many pieces are counted."""
        return len(self.told.pieces)

    @property
    def steps(self) -> tuple[tuple[str, Stage], ...]:
        """The steps by their names."""
        told = self.told
        return (
            ("as found", told.found),
            ("as decided", told.decided),
            ("as left so far", told.left),
        )


def ways_of(folder: CarFolder) -> tuple[tuple[Way, ...], bool]:
    """The ways that count any piece, and whether a choice stands that decides.

    Raises
    ------
    AsfoundError
        If the evidence cannot be weighed.
    """
    counted = counted_pieces(folder)
    decided = _decided(folder)
    left = left_of(folder)
    ways = tuple(
        Way(
            word=word,
            name=WAYS[word],
            told=ledger_steps(pieces, decided=decided or {}, left=left),
        )
        for word, pieces in counted.items()
    )
    return ways, decided is not None


def counted_pieces(folder: CarFolder) -> dict[str, tuple[Piece, ...]]:
    """Pieces of each way that counts any, by the word of the way."""
    found = found_ledger(folder)
    counted = {
        "finish": found.finish,
        "parts": tuple(replace(piece, amount=1.0) for piece in found.parts),
        "significance": found.parts,
    }
    return {word: pieces for word, pieces in counted.items() if pieces}


def over_time(car: Car, folder: CarFolder, pieces: tuple[Piece, ...]) -> tuple[LedgerDay, ...]:
    """The ledger of some pieces along the days of this car."""
    return ledger_days(
        pieces,
        taken_in=timezone.localdate(car.created_at),
        signed=_signed(car),
        finished=finished_of(folder),
    )


def _signed(car: Car) -> tuple[Signed, ...]:
    proposals = car.proposals.signed().select_related("signature").order_by("number")
    return tuple(
        Signed(
            day=timezone.localdate(one.signature.signed_at),
            words=str(one),
            kept={piece["subject"]: piece["kept"] for piece in one.content["pieces"]},
        )
        for one in proposals
    )


def _decided(folder: CarFolder) -> dict[str, float] | None:
    """Share kept of every piece by the choice as it stands; None where there is no choice."""
    try:
        problem, choice = choice_problem(folder), chosen_now(folder)
    except AsfoundError:
        return None
    return _kept(problem, choice.options)


def _kept(problem: Problem, options: Mapping[str, str]) -> dict[str, float]:
    return {o.subject: o.kept for o in problem.options if options.get(o.subject) == o.option}
