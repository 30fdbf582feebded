"""Dates, claims and the state of every piece as found, weighed from what is written and read."""

from __future__ import annotations

from collections.abc import Callable, Collection
from typing import TypeVar

from asfound.base import NotEnoughEvidenceError
from asfound.record.convert.evidence import eye_cap_of, priors_of
from asfound.record.convert.history import history_of
from asfound.record.derived.kept import kept, key_of
from asfound.record.derived.readings import COLOUR_TABLES, FILM_TABLES, colour_reading, film_reading
from asfound.record.evidence import all_claims, tells_kinds
from asfound.record.evidence.ledger import Ledger, ledger_of
from asfound.record.folder import CarFolder
from asfound.weigh.dates import HistoryReading, read_history
from asfound.weigh.evidence import Weighed, weigh

HISTORY_TABLES = ("events", "event_links")
EVIDENCE_TABLES = (
    *("car", "parts", "evidence", "identifiers", "odometer", "wear", *HISTORY_TABLES),
    *("weighing", "priors", "number_weights"),
    *FILM_TABLES,
    *COLOUR_TABLES[1:],
)
LEDGER_TABLES = (*EVIDENCE_TABLES, "state_rules")

_T = TypeVar("_T")


def history_reading(
    folder: CarFolder, *, seed: int = 0, without: Collection[tuple[str, str]] = ()
) -> HistoryReading:
    """When things happened to the car, and which statements clash.

    What is named in ``without``, windows of events and links, is left out for a look.

    Raises
    ------
    InputFaultsError
        If an event or a link cannot be read.
    """
    left_out = sorted(map(list, without))
    key = key_of("history_reading", folder, HISTORY_TABLES, seed=seed, without=left_out)
    return kept(key, lambda: read_history(history_of(folder, without=without), seed=seed))


def weighed_evidence(folder: CarFolder) -> tuple[Weighed, ...]:
    """Every claim of the car weighed, with what people wrote and what the program derives.

    Raises
    ------
    InputFaultsError
        If a row of evidence cannot be weighed.
    """
    return kept(key_of("weighed_evidence", folder, EVIDENCE_TABLES), lambda: _weigh(folder))


def _weigh(folder: CarFolder) -> tuple[Weighed, ...]:
    film = _where_read(folder, "film", film_reading)
    colour = _where_read(folder, "colour", colour_reading)
    history = history_reading(folder) if tells_kinds(folder) else None
    cap, priors = eye_cap_of(folder), priors_of(folder)
    return tuple(
        weigh(claim, eye_cap=cap, declared=priors.get(claim.key))
        for claim in all_claims(folder, film=film, colour=colour, history=history)
    )


def found_ledger(folder: CarFolder) -> Ledger:
    """State of every piece as found, and the shares they come to.

    Raises
    ------
    InputFaultsError
        If a row of evidence cannot be weighed.
    """
    key = key_of("found_ledger", folder, LEDGER_TABLES)
    return kept(key, lambda: _ledger(folder))


def _ledger(folder: CarFolder) -> Ledger:
    film = _where_read(folder, "film", film_reading)
    return ledger_of(folder, weighed=weighed_evidence(folder), film=film)


def _where_read(folder: CarFolder, table: str, read: Callable[[CarFolder], _T]) -> _T | None:
    """Reading of a table; none where it is empty or says too little."""
    if not len(folder.sheet(table)):
        return None
    try:
        return read(folder)
    except NotEnoughEvidenceError:
        return None
