"""The ledger over time: from the day of as found, through what was signed, to what was left."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from asfound.record.convert.errands import days_of
from asfound.record.convert.ledger_steps import Stage, ledger_steps
from asfound.record.folder import CarFolder
from asfound.weigh.ledger import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Signed:
    """A proposal or change order that was signed.

    Parameters
    ----------
    day : date
    words : str
        What it is called.
    kept : mapping of str to float
        Share kept, 0–1, of every piece in it.
    """

    day: date
    words: str
    kept: Mapping[str, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finished:
    """Work on a piece that was finished, and the share of the piece that it left, 0–1."""

    day: date
    piece: str
    kept: float


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerDay:
    """Shares at the end of a day on which something was signed or finished.

    Parameters
    ----------
    day : date
    events : tuple of str
        What happened, in words.
    signed : Stage or None
        What all work signed for by then would leave; None before anything is signed.
    left : Stage
        What all work finished by then has left.
    """

    day: date
    events: tuple[str, ...]
    signed: Stage | None
    left: Stage


def ledger_days(
    pieces: Iterable[Piece],
    *,
    taken_in: date,
    signed: Sequence[Signed] = (),
    finished: Sequence[Finished] = (),
) -> tuple[LedgerDay, ...]:
    """Shares of original fabric, a point for each day on which they may have moved.

    Parameters
    ----------
    pieces : iterable of Piece
        As found.
    taken_in : date
        Day since which the car is on record; where something is dated before it, the line begins
        on the day of that.
    signed, finished : sequence
        In any order. A piece signed for again counts as it was signed for last, and of two on one
        day the one given later.

    Returns
    -------
    tuple of LedgerDay
        As found first, then the days on which something was signed or finished, in order.

    Examples
    --------
    >>> from asfound.weigh.ledger import Decided
    >>> wing = Piece(name="wing", decided=Decided(state="O", because=""), amount=1.0)
    >>> work = Finished(day=date(2026, 3, 1), piece="wing", kept=0.75)
    >>> days = ledger_days([wing], taken_in=date(2026, 1, 5), finished=[work])
    >>> [(f"{day.day}", day.left.original) for day in days]
    [('2026-01-05', 1.0), ('2026-03-01', 0.75)]
    """
    listed = tuple(pieces)
    in_turn = sorted(signed, key=lambda one: one.day)
    moved = sorted({one.day for one in signed} | {one.day for one in finished})
    found = LedgerDay(
        day=min([taken_in, *moved]),
        events=("as found",),
        signed=None,
        left=ledger_steps(listed, decided={}, left={}).found,
    )
    return found, *(_at_the_end_of(day, listed, in_turn, finished) for day in moved)


def _at_the_end_of(
    day: date, pieces: Sequence[Piece], signed: Sequence[Signed], finished: Sequence[Finished]
) -> LedgerDay:
    by_then = [one for one in signed if one.day <= day]
    plans = {piece: kept for one in by_then for piece, kept in one.kept.items()}
    done = {one.piece: one.kept for one in finished if one.day <= day}
    steps = ledger_steps(pieces, decided=plans, left=done)
    return LedgerDay(
        day=day,
        events=(
            *(f"signed: {one.words}" for one in signed if one.day == day),
            *(f"finished: {one.piece}" for one in finished if one.day == day),
        ),
        signed=steps.decided if by_then else None,
        left=steps.left,
    )


def finished_of(car: CarFolder) -> tuple[Finished, ...]:
    """Finished work of a car by day; a date of a month or year counts from its last day.

    Work whose date tells no day at all is left out.
    """
    told = (
        (next((day for day in reversed(days_of(row.text("done_on"))) if day), None), row)
        for row in car.sheet("as_left")
    )
    return tuple(
        Finished(day=day, piece=row.text("subject"), kept=row.number("kept"))
        for day, row in told
        if day is not None
    )
