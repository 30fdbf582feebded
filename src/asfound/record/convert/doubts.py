"""How far the numbers of a choice may be off: hours and cost by source, fabric by evidence."""

from __future__ import annotations

from collections.abc import Iterable

from asfound.choose import Doubt
from asfound.record.convert.ledger import state_rules_of
from asfound.record.folder import CarFolder, Row
from asfound.weigh.evidence import Weighed, same_words

BY_SOURCE = {"past work": 0.15, "quote": 0.10, "guess": 0.40, "": 0.25}
"""Relative standard doubt of hours and cost by where they come from: the program's own, no source.
A row with a ``doubt`` of its own keeps that."""
NEUTRAL_PRIOR = 0.5


def doubt_of(car: CarFolder, *, weighed: Iterable[Weighed]) -> Doubt:
    """Doubt of every option's hours and cost, and of every subject's originality.

    Notes
    -----
    A subject's fabric is original with the posterior, at a prior of one half, of the first claim on
    it that the workshop's rules take as speaking for "original and in place", or with what is left
    of the posterior of one that they take as speaking for "later". Without such a claim it is taken
    as certain: nobody weighed it, so nothing varies.
    """
    return Doubt(
        work={
            (row.text("subject"), row.text("option")): _work_doubt(row)
            for row in car.sheet("options")
        },
        original=_original(car, weighed),
    )


def _work_doubt(row: Row) -> float:
    return row.number("doubt", default=BY_SOURCE.get(row.text("source"), BY_SOURCE[""]))


def _original(car: CarFolder, weighed: Iterable[Weighed]) -> dict[str, float]:
    speaks = {
        same_words(rule.statement): rule.state
        for rule in state_rules_of(car)
        if rule.state in ("O", "L") and rule.favours == "statement"
    }
    named = {same_words(row.text("subject")): row.text("subject") for row in car.sheet("options")}
    found: dict[str, float] = {}
    for one in weighed:
        subject = named.get(same_words(one.claim.subject))
        state = speaks.get(same_words(one.claim.statement))
        if subject is None or state is None or NEUTRAL_PRIOR not in one.posterior:
            continue
        chance = one.posterior[NEUTRAL_PRIOR]
        found.setdefault(subject, chance if state == "O" else 1 - chance)
    return found
