"""The ledger of a car as found."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from asfound.measure.film import FilmReading
from asfound.record.convert.ledger import finish_pieces, part_pieces, state_rules_of
from asfound.record.folder import CarFolder
from asfound.weigh.evidence import Weighed
from asfound.weigh.ledger import Account, Piece, StateRule, account


@dataclass(frozen=True, slots=True, kw_only=True)
class Ledger:
    """State of every piece of a car, and what they come to.

    Parameters
    ----------
    rules : tuple of StateRule
        By which the states were told.
    parts, finish : tuple of Piece
        Parts by their significance, and the finish of panels by its area.
    written : dict of str to str
        State that a person wrote of a part, by its name; empty where nobody did.
    by_part, by_significance, by_area : Account
    """

    rules: tuple[StateRule, ...]
    parts: tuple[Piece, ...]
    finish: tuple[Piece, ...]
    written: dict[str, str]
    by_part: Account
    by_significance: Account
    by_area: Account


def ledger_of(car: CarFolder, *, weighed: Iterable[Weighed], film: FilmReading | None) -> Ledger:
    """Ledger of a car from its weighed evidence and the areas of its film reading."""
    claims = tuple(weighed)
    listed = tuple(part_pieces(car, claims))
    parts = tuple(piece for piece, _ in listed)
    finish = tuple(finish_pieces(car, claims, film))
    return Ledger(
        rules=state_rules_of(car),
        parts=parts,
        finish=finish,
        written={piece.name: row.text("state") for piece, row in listed},
        by_part=account(replace(piece, amount=1.0) for piece in parts),
        by_significance=account(parts),
        by_area=account(finish),
    )
