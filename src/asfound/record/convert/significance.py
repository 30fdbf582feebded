"""Criteria and grades of a car become the weights of its pieces."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from asfound.record.faults import Fault
from asfound.record.folder import CarFolder, Sheet
from asfound.weigh.significance import SUPPLIED, Criterion, Graded, Significance, significance

UNSAID = 1.0
"""Weight of a piece of which nothing is said."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PieceWeight:
    """The weight of a piece in the choice, and where it comes from.

    Parameters
    ----------
    value : float
    typed : float or None
        As a person typed it into ``subjects.csv``; it goes before all else.
    graded : tuple of Graded
        In the order of the criteria.
    significance : Significance or None
        What the grades make; ``None`` where no criterion that counts was graded.
    """

    value: float
    typed: float | None
    graded: tuple[Graded, ...]
    significance: Significance | None

    @property
    def words(self) -> str:
        """Where the weight comes from, with its sum.

        Examples
        --------
        >>> PieceWeight(value=1.0, typed=None, graded=(), significance=None).words
        'weight 1: nobody typed one or graded the piece'
        """
        made = self.significance.sum_in_words if self.significance else ""
        if self.typed is not None:
            beside = f"; its criteria would make {made}" if made else ""
            return f"weight {self.typed:g}, typed by hand{beside}"
        return f"weight {made}" if made else "weight 1: nobody typed one or graded the piece"


def criteria_of(car: CarFolder) -> tuple[Criterion, ...]:
    """Criteria of the car; those supplied where it has none of its own."""
    own = tuple(
        Criterion(
            name=row.text("criterion"),
            weight=row.number("weight"),
            meaning=row.text("meaning"),
            source=row.text("source"),
        )
        for row in car.sheet("criteria")
    )
    return own or SUPPLIED


def graded_pieces(car: CarFolder) -> dict[str, tuple[Graded, ...]]:
    """Grades by piece, in the order of the criteria."""
    order = [criterion.name for criterion in criteria_of(car)]
    found: dict[str, list[Graded]] = {}
    for row in car.sheet("significance"):
        one = Graded(
            criterion=row.text("criterion"),
            grade=row.text("grade"),
            reason=row.text("reason"),
            by=row.text("by"),
        )
        found.setdefault(row.text("subject"), []).append(one)
    return {
        subject: tuple(
            sorted(
                several,
                key=lambda one: (
                    order.index(one.criterion) if one.criterion in order else len(order)
                ),
            )
        )
        for subject, several in found.items()
    }


class Weights:
    """Weights of the pieces of a car, the tables read once."""

    def __init__(self, car: CarFolder) -> None:
        self.criteria = criteria_of(car)
        self._graded = graded_pieces(car)
        self._typed = {
            row.text("subject"): row.number("weight")
            for row in car.sheet("subjects")
            if row.text("weight")
        }

    def of(self, subject: str) -> PieceWeight:
        """Weight of a piece: typed by hand, else made by its criteria, else 1."""
        graded, typed = self._graded.get(subject, ()), self._typed.get(subject)
        made = significance(graded, criteria=self.criteria)
        from_grades = UNSAID if made is None else made.value
        return PieceWeight(
            value=from_grades if typed is None else typed,
            typed=typed,
            graded=graded,
            significance=made,
        )


def weight_words(car: CarFolder) -> dict[str, str]:
    """Where the weight of each graded piece comes from, in words, by piece."""
    weights = Weights(car)
    return {subject: weights.of(subject).words for subject in graded_pieces(car)}


def significance_faults(sheets: Mapping[str, Sheet]) -> Iterator[Fault]:
    """Grades by a criterion that is none, where the car has no criteria of its own."""
    if len(sheets.get("criteria", Sheet(columns=()))):
        return
    known = [criterion.name for criterion in SUPPLIED]
    for row in sheets.get("significance", Sheet(columns=())):
        if row.text("criterion") and row.text("criterion") not in known:
            yield Fault(
                file="significance.csv",
                row=row.number_in_file,
                column="criterion",
                value=row.text("criterion"),
                rule=f"without criteria.csv the criteria are {', '.join(known)}",
                remedy="Use one of these, or write the car's own criteria into criteria.csv.",
            )
