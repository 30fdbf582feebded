"""The ledger in three steps: as found, as decided, as left."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from asfound.record.folder import CarFolder
from asfound.weigh.evidence import same_words
from asfound.weigh.ledger import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class Stage:
    """What of the whole is shown to be original, and what is not known, each as a share 0–1."""

    original: float
    not_known: float


@dataclass(frozen=True, slots=True, kw_only=True)
class StepPiece:
    """One piece through the steps.

    Parameters
    ----------
    name : str
    state : str
        As found, a letter of ``weigh.ledger.STATES``.
    amount : float
        How much it counts.
    decided : float or None
        Share of its fabric that what is decided keeps; None where nothing is decided on it.
    left : float or None
        Share that was there after the work; None where no work is finished.
    """

    name: str
    state: str
    amount: float
    decided: float | None
    left: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerSteps:
    """Shares as found, as decided and as left so far, with the pieces they come from.

    A piece on which nothing is decided keeps what was found, and so does one whose work is not
    finished, as left.
    """

    found: Stage
    decided: Stage
    left: Stage
    pieces: tuple[StepPiece, ...]


def ledger_steps(
    pieces: Iterable[Piece], *, decided: Mapping[str, float], left: Mapping[str, float]
) -> LedgerSteps:
    """The three steps of a ledger.

    Parameters
    ----------
    pieces : iterable of Piece
        As found.
    decided, left : mapping of str to float
        Share kept, 0–1, by the name of the piece.

    Examples
    --------
    >>> from asfound.weigh.ledger import Decided
    >>> wing = Piece(name="wing", decided=Decided(state="O", because=""), amount=3.0)
    >>> door = Piece(name="door", decided=Decided(state="O", because=""), amount=1.0)
    >>> steps = ledger_steps([wing, door], decided={"wing": 0.5}, left={})
    >>> steps.found.original, steps.decided.original, steps.left.original
    (1.0, 0.625, 1.0)
    """
    plans = {same_words(name): share for name, share in decided.items()}
    done = {same_words(name): share for name, share in left.items()}
    listed = tuple(pieces)
    lines = tuple(
        StepPiece(
            name=piece.name,
            state=piece.decided.state,
            amount=piece.amount,
            decided=plans.get(same_words(piece.name)),
            left=done.get(same_words(piece.name)),
        )
        for piece in listed
    )
    return LedgerSteps(
        found=_stage(listed, [None for _ in lines]),
        decided=_stage(listed, [line.decided for line in lines]),
        left=_stage(listed, [line.left for line in lines]),
        pieces=lines,
    )


def _stage(pieces: Sequence[Piece], kept: Sequence[float | None]) -> Stage:
    total = math.fsum(piece.amount for piece in pieces)

    def share(state: str) -> float:
        amounts = (
            piece.amount * part * (1.0 if still is None else still)
            for piece, still in zip(pieces, kept, strict=True)
            if (part := _part(piece, state))
        )
        return math.fsum(amounts) / total if total else 0.0

    return Stage(original=share("O"), not_known=share("U"))


def _part(piece: Piece, state: str) -> float:
    """Part of a piece in a state; what of a finish was not outlined as later is not known."""
    if piece.decided.state == "L" and state == "U":
        return 1 - piece.later_share
    return float(piece.decided.state == state)


def left_of(car: CarFolder) -> dict[str, float]:
    """Share of each finished piece that is still there."""
    return {row.text("subject"): row.number("kept") for row in car.sheet("as_left")}
