"""All claims of a car: by hand first, then what the program derives."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from asfound.measure.colour import CarColour
from asfound.measure.film import FilmReading
from asfound.record.convert.evidence import claims_of
from asfound.record.convert.number_weights import number_weights_of
from asfound.record.convert.numbers import marks_of
from asfound.record.evidence.events import event_claims
from asfound.record.evidence.finish import finish_claims
from asfound.record.evidence.marks import mark_claims
from asfound.record.evidence.wear import wear_claims
from asfound.record.folder import CarFolder
from asfound.weigh.dates import HistoryReading
from asfound.weigh.evidence import Claim


def all_claims(
    car: CarFolder,
    *,
    film: FilmReading | None = None,
    colour: CarColour | None = None,
    history: HistoryReading | None = None,
) -> tuple[Claim, ...]:
    """Claims of a car with every item that speaks to them.

    Parameters
    ----------
    car : CarFolder
    film, colour : optional
        Readings of the finish, where it was read.
    history : optional
        When things happened, where the car's events say what kind they are.

    Raises
    ------
    InputFaultsError
        If a row of evidence cannot be weighed.
    """
    weights = number_weights_of(car)
    return joined(
        (
            *claims_of(car),
            *mark_claims(marks_of(car), weights=weights),
            *event_claims(car, history, weights=weights),
            *wear_claims(car),
            *finish_claims(film=film, colour=colour),
        )
    )


def joined(claims: Iterable[Claim]) -> tuple[Claim, ...]:
    """Claims on one subject with the same two statements as one, in the order first met."""
    found: dict[tuple[str, str, str], Claim] = {}
    for claim in claims:
        first = found.get(claim.key)
        found[claim.key] = replace(first, items=first.items + claim.items) if first else claim
    return tuple(found.values())
